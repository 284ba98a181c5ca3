"""The window: draws what the session says and passes on what the pupil does."""
