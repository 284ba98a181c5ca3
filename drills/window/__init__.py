"""The window: draws what the session says and passes on what the pupil does."""

import os

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
