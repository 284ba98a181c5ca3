"""The window's first page: who is playing?"""

from __future__ import annotations

from collections.abc import Mapping

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.window.pages.buttons import Button, ButtonScene, corner
from drills.window.pages.marks import MARKS, PLUS
from drills.window.pages.turning import EARLIER, MORE, Turning
from landmarks.translation import _

NEW, TEACHER = "new pupil", "teacher"
PUPIL = "pupil/"
"""Before the nickname in the action of a pupil's tile."""
TILES = 8
"""On one page, the one for a new pupil among them."""
_IN_A_ROW = 4


class FirstPage(ButtonScene):
    """A tile for each pupil, with mark and nickname; in the corner the way to the teacher's page.

    Afterwards `chosen` is a tile's action, or None if the page was left.
    """

    def __init__(self, marks: Mapping[str, str], teacher: bool = True) -> None:
        """Offer the pupils by their nicknames; `marks` gives the mark of each.

        `teacher` offers the teacher's page, too.
        """
        self._nicknames = list(marks)
        super().__init__(f"{PUPIL}{self._nicknames[0]}" if marks else NEW)
        self.chosen: str | None = None
        self._marks = marks
        self._teacher = teacher
        self._turning = Turning(len(self._nicknames), TILES - 1)

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the tiles, and small buttons in the lower corners."""
        shown = self._nicknames[self._turning.shown]
        boxes = _tiles(len(shown) + 1, width, height)
        tiles = [
            Button(
                f"{PUPIL}{nickname}", nickname, box, size=0.15, outline=MARKS[self._marks[nickname]]
            )
            for nickname, box in zip(shown, boxes[:-1], strict=True)
        ]
        tiles.append(Button(NEW, _("new"), boxes[-1], size=0.15, outline=PLUS))
        corners = []
        if self._teacher:
            box = corner(width, height, right=True)
            corners.append(Button(TEACHER, _("teacher"), box, size=0.46))
        left = corner(width, height, right=False)
        turning = Box(left.x, left.y, left.width * 3 // 2, left.height)
        return tiles + corners + self._turning.buttons(turning, 0.4)

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the question."""
        return [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(
                _("who is playing?"),
                width / 2,
                height * 0.13,
                height * 0.072,
                palette.INK,
                0.95 * width,
            ),
        ]

    def act(self, action: str) -> None:
        """Take a tile, or show other pupils."""
        if action in (MORE, EARLIER):
            self._turning = self._turning.turned(action)
            return
        self.chosen, self.over = action, True


def _tiles(count: int, width: int, height: int) -> list[Box]:
    """Return boxes in one or two centred rows, as large as their number allows."""
    rows = -(-count // _IN_A_ROW)
    in_a_row = -(-count // rows)
    gap = height // 28
    top, bottom = round(height * 0.19), round(height * 0.86)
    tall = min((bottom - top - (rows - 1) * gap) // rows, round(height * 0.42))
    across = min((round(width * 0.94) - (in_a_row - 1) * gap) // in_a_row, round(tall * 0.95))
    first = top + (bottom - top - rows * tall - (rows - 1) * gap) // 2
    boxes = []
    for row in range(rows):
        places = min(in_a_row, count - row * in_a_row)
        left = (width - places * across - (places - 1) * gap) // 2
        boxes += [
            Box(left + place * (across + gap), first + row * (tall + gap), across, tall)
            for place in range(places)
        ]
    return boxes
