"""The window: draws what the session says and passes on what the pupil does."""

import os
import sys

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
if sys.platform == "linux" and os.environ.get("DISPLAY"):
    # On X11 SDL would copy the whole window through OpenGL for every small change: measured,
    # 12 ms instead of 1 ms a frame where OpenGL is drawn by the processor.
    os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
