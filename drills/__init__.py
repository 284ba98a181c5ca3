"""The drill: cards, the pupil's learning, piano input, window, session log and review."""

__version__ = "0.1.0"
