"""A window without a piano, for the teacher's own pages."""

from __future__ import annotations

import pygame

from drills.piano import PianoEvent
from drills.window.scene import Scene
from drills.window.speech import speaker
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
    """Return a window that no piano plays into."""
    return Window(screen, NoPiano(), lambda _: None)


def show_alone(screen: pygame.Surface, scene: Scene, speech: bool) -> None:
    """Show a scene in a window of its own until it is left, and read it out if `speech`."""
    window = still_window(screen)
    window.speaker = speaker() if speech else None
    try:
        window.show(scene)
    finally:
        if window.speaker is not None:
            window.speaker.close()
