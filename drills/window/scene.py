"""What a window shows: scenes, and the commands that reach them."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum, auto
from typing import Protocol

from drills.engrave.layer import Layer
from drills.sessions import events


class Command(Enum):
    """A key of the computer that plays no note; each scene says what it does there."""

    LEAVE = auto()
    ENTER = auto()
    SPACE = auto()
    BACK = auto()
    NOTES = auto()
    UP = auto()
    DOWN = auto()
    LEFT = auto()
    RIGHT = auto()


class Scene(Protocol):
    """One use of the window, from its first page to its last. Times are monotonic, in ns."""

    @property
    def over(self) -> bool:
        """Whether the window may go on to something else."""

    @property
    def due_ns(self) -> int | None:
        """When something happens of itself, if nothing else comes before."""

    @property
    def in_focus(self) -> str:
        """What Enter would press, in words to be read out; "" if nothing is in focus."""

    @property
    def takes_letters(self) -> bool:
        """Whether the computer's letters are letters here, instead of keys of the piano."""

    def take(self, event: events.Event, at_ns: int) -> None:
        """Take in what happened: notes, pianos that come and go, time, the end."""

    def command(self, command: Command, at_ns: int) -> bool:
        """Take in a computer key; False if it means nothing here."""

    def typed(self, letters: str) -> None:
        """Take in letters, if they are taken here."""

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Take in a touch of the page beside the keyboard strip."""

    def key_at(self, x: float, y: float) -> int | None:
        """Return the piano key that is drawn at a point, if there is one."""

    def layers(self, width: int, height: int) -> list[Layer]:
        """Return what is to be seen in a window of this size; cheap if nothing has changed."""

    def drawn(self, at_ns: int) -> bool:
        """Be told that the latest layers are on the screen; give whether they begin a page."""

    def likely_layers(self) -> Iterator[Layer]:
        """Return layers that may be wanted soon, to be engraved while nothing happens."""
