"""The screen: a window of the desktop, or all of it."""

from __future__ import annotations

import os
from io import BytesIO

import pygame

from drills.engrave.icon import icon_png
from drills.text.errors import DrillsError
from drills.window.termination import close_when_asked
from landmarks.translation import _

_NO_SCREEN = ("offscreen", "dummy", "evdev")
"""What SDL falls back on where there is nothing to see it on."""


class NoScreenError(DrillsError):
    """There is no screen to open a window on."""


def open_screen(size: tuple[int, int] | None, full_screen: bool) -> pygame.Surface:
    """Open the window: `size` in pixels, or most of the desktop. NoScreenError if it cannot."""
    try:
        close_when_asked()
        pygame.display.init()
        if pygame.display.get_driver() in _NO_SCREEN and "SDL_VIDEODRIVER" not in os.environ:
            raise pygame.error("no display")
        pygame.display.set_caption("landmark-drills")
        pygame.display.set_icon(pygame.image.load(BytesIO(icon_png(64))))
        if full_screen:
            return pygame.display.set_mode((0, 0), pygame.FULLSCREEN)
        return pygame.display.set_mode(size or _comfortable_size(), pygame.RESIZABLE)
    except pygame.error as error:
        raise NoScreenError(
            _(
                "no screen to open a window on ({error}); to see the drill at work without one, "
                "run landmark-drills demonstrate --headless"
            ).format(error=error)
        ) from None


def _comfortable_size() -> tuple[int, int]:
    width, height = pygame.display.get_desktop_sizes()[0]
    tall = min(height, round(width * 0.75)) * 0.85
    return round(min(width * 0.95, tall * 4 / 3)), round(tall)
