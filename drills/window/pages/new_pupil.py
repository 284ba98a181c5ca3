"""The page on which a new pupil chooses a mark, and is called by it or by what is typed."""

from __future__ import annotations

from collections.abc import Collection

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.storage.nickname import LONGEST_NICKNAME
from drills.window.pages.buttons import Button, ButtonScene, corner
from drills.window.pages.marks import MARKS
from drills.window.scene import Command
from landmarks.translation import _

BACK, TEACHER = "back", "teacher"
MARK = "mark/"
"""Before the name of the mark in the action of its tile."""
_COLUMNS = 5


class NewPupilPage(ButtonScene):
    """One touch of a mark makes the pupil; letters typed before it are the nickname.

    Afterwards `chosen` is (nickname, mark), or None if the page was left; `to_teacher` tells that
    the teacher's page is wanted instead.
    """

    def __init__(
        self, taken_nicknames: Collection[str], taken_marks: Collection[str], teacher: bool = False
    ) -> None:
        """Offer the marks that nobody has, or all of them when there are none left.

        `teacher` offers the teacher's page in the place of the way back.
        """
        self._offered = [name for name in MARKS if name not in taken_marks] or list(MARKS)
        super().__init__(MARK + self._offered[0])
        self._taken = {nickname.casefold() for nickname in taken_nicknames}
        self.chosen: tuple[str, str] | None = None
        self.to_teacher = False
        self._teacher = teacher
        self._written = ""

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return a tile for each mark, and the way out."""
        tiles = [
            Button(MARK + name, self._words(name), box, size=0.2, outline=MARKS[name])
            for name, box in zip(
                self._offered, _tiles(len(self._offered), width, height), strict=True
            )
        ]
        if self._teacher:
            return [
                *tiles,
                Button(TEACHER, _("teacher"), corner(width, height, right=True), size=0.46),
            ]
        return [*tiles, Button(BACK, _("back"), corner(width, height, right=True), size=0.46)]

    def page(self, width: int, height: int) -> list[Layer]:
        """Ask for a picture, and show what is typed."""
        middle, room = width / 2, 0.95 * width
        title = self._written or _("which picture is yours?")
        detail = (
            _("now choose a picture")
            if self._written
            else _("or type a nickname first, no full name")
        )
        return [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(title, middle, height * 0.105, height * 0.07, palette.INK, room),
            text(detail, middle, height * 0.165, height * 0.038, palette.PENCIL, room),
        ]

    def typed(self, letters: str) -> None:
        """Add letters to the nickname; a space only between them."""
        for letter in letters:
            fits = letter.isalnum() or (letter in " -_'" and self._written)
            if fits and len(self._written) < LONGEST_NICKNAME:
                self._written += letter

    def command(self, command: Command, at_ns: int) -> bool:
        """Take letters back; the space bar writes a space once something is written."""
        if command is Command.BACK:
            self._written = self._written[:-1]
            return True
        if command is Command.SPACE and self._written:
            return True
        return super().command(command, at_ns)

    def act(self, action: str) -> None:
        """Take a mark, or leave."""
        self.over = True
        self.to_teacher = action == TEACHER
        if action.startswith(MARK):
            mark = action.removeprefix(MARK)
            self.chosen = self._free(self._written.strip() or _called(mark)), mark

    def _words(self, mark: str) -> str:
        return "" if self._written else _called(mark)

    def _free(self, wanted: str) -> str:
        """Return the nickname wanted, with a number if somebody has it."""
        nickname, number = wanted, 1
        while nickname.casefold() in self._taken:
            number += 1
            ending = f" {number}"
            nickname = wanted[: LONGEST_NICKNAME - len(ending)] + ending
        return nickname


class PicturePage(NewPupilPage):
    """The marks that nobody else has, for a pupil who wants another one."""

    def __init__(self, nickname: str, taken_marks: Collection[str]) -> None:
        """Offer the marks beside those that others have."""
        super().__init__((), taken_marks)
        self._written = nickname

    def typed(self, letters: str) -> None:
        """The nickname stays."""

    def _words(self, mark: str) -> str:
        return _called(mark)

    def command(self, command: Command, at_ns: int) -> bool:
        """Move and press as on any page of buttons."""
        return ButtonScene.command(self, command, at_ns)


def _called(mark: str) -> str:
    return _(mark).capitalize()


def _tiles(count: int, width: int, height: int) -> list[Box]:
    rows, gap = max(2, -(-count // _COLUMNS)), height // 45
    top, bottom = round(height * 0.2), round(height * 0.885)
    tall = (bottom - top - (rows - 1) * gap) // rows
    across = min((round(width * 0.94) - (_COLUMNS - 1) * gap) // _COLUMNS, round(tall * 1.3))
    boxes = []
    for first in range(0, count, _COLUMNS):
        places = min(_COLUMNS, count - first)
        left = (width - places * across - (places - 1) * gap) // 2
        y = top + first // _COLUMNS * (tall + gap)
        boxes += [Box(left + place * (across + gap), y, across, tall) for place in range(places)]
    return boxes
