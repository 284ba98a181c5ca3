"""Where a line of music stands in the window: its card, its size, its upper left corner."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import ClassVar

from drills.engrave.layer import Box
from drills.engrave.line import EngravedLine, engraved_line
from landmarks.line import Line

_LARGEST_SPACE = 0.042
"""Of the window's height: larger notes would be further apart than an eye takes in."""
_ENLARGED = 1.25
"""How much larger notes and words may be for a pupil who wants them large."""


class LinePlacement(ABC):
    """What the settings of pages with a line share; the size of the window is theirs, in pixels."""

    width: int
    height: int
    large: bool
    share_of_card: ClassVar[float]
    """How much of the card's height a line may take."""

    @property
    @abstractmethod
    def card_box(self) -> Box:
        """The box of the card that the line stands on."""

    @property
    def margin(self) -> int:
        """The room around everything."""
        return self.height // (80 if self.large else 40)

    @property
    def enlarged(self) -> float:
        """How many times as large as usual notes and words may be."""
        return _ENLARGED if self.large else 1.0

    def engraved(self, line: Line) -> EngravedLine:
        """Engrave a line for the card."""
        box, largest = self.card_box, self.height * _LARGEST_SPACE * self.enlarged
        room = round(box.width * 0.95), round(box.height * self.share_of_card)
        return engraved_line(line, *room, largest)

    def corner(self, engraved: EngravedLine) -> tuple[int, int]:
        """Return the upper left corner of an engraved line in the window, on whole pixels."""
        box = self.card_box
        return (
            round(box.x + (box.width - engraved.width) / 2),
            round(box.y + (box.height - engraved.height) / 2),
        )
