"""A window without a piano, for the teacher's own pages."""

from __future__ import annotations

import pygame

from drills.piano import PianoEvent
from drills.window.window import Window


class NoPiano:
    """Stands where the piano stands and is never played."""

    name: str | None = None

    def poll(self, now: int) -> list[PianoEvent]:
        """Nothing ever happens."""
        return []

    def choose(self, name: str) -> None:
        """There is nothing to choose from."""


def still_window(screen: pygame.Surface) -> Window:
    """Give a window that no piano plays into."""
    return Window(screen, NoPiano(), lambda _: None)
