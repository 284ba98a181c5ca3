"""The teacher's page: her pupils on the left, and all that can be done for them."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.marks import MARKS
from drills.window.pages.turning import EARLIER, MORE, Turning
from drills.window.scene import Command
from landmarks.translation import _, gettext_noop

DONE = "done"
PUPIL = "pupil/"
"""Before the nickname in the action of a pupil's row."""
ROWS = 8


@dataclass(frozen=True)
class Use:
    """What can be done, and in which words its button says so."""

    name: str
    words: str
    needs_pupil: bool = True


USES: tuple[tuple[str, tuple[Use, ...]], ...] = (
    (
        gettext_noop("in the lesson"),
        (
            Use("warm-up", gettext_noop("warm-up")),
            Use("spot", gettext_noop("find notes in a line")),
            Use("read", gettext_noop("read a line at the piano")),
            Use("play", gettext_noop("play a piece to the pupil")),
            Use("piece", gettext_noop("a piece")),
            Use("pieces", gettext_noop("a shelf of pieces")),
            Use("beginnings", gettext_noop("what this pupil brings")),
        ),
    ),
    (
        gettext_noop("for the week"),
        (
            Use("review", gettext_noop("how reading stands")),
            Use("handout", gettext_noop("practice sheet")),
            Use("parents sheet", gettext_noop("sheet for parents")),
            Use("settings", gettext_noop("how this pupil practises")),
            Use("export", gettext_noop("pack this pupil's files")),
            Use("picture", gettext_noop("another picture")),
        ),
    ),
    (
        gettext_noop("the studio"),
        (
            Use("new pupil", gettext_noop("a new pupil"), needs_pupil=False),
            Use("review all", gettext_noop("everybody's reading"), needs_pupil=False),
            Use("gather", gettext_noop("take in files"), needs_pupil=False),
            Use("questions", gettext_noop("questions for parents"), needs_pupil=False),
            Use("demonstrate", gettext_noop("watch an example"), needs_pupil=False),
            Use("forget", gettext_noop("remove this pupil")),
        ),
    ),
)
"""By column; each use is a command of the command line, too."""
NEED_PUPIL = frozenset(use.name for _heading, uses in USES for use in uses if use.needs_pupil)


def words_of(use: str) -> str:
    """Return the words on the button of a use."""
    return _(next(each.words for _heading, uses in USES for each in uses if each.name == use))


class TeacherPage(ButtonScene):
    """Stays on one pupil until another is touched; `chosen` is then (use, nickname) or None."""

    def __init__(
        self,
        marks: Mapping[str, str],
        pupil: str,
        piano: str | None,
        practised: Mapping[str, str] = MappingProxyType({}),
    ) -> None:
        """Show the pupils; `pupil` is the one in hand ("" for none), `piano` the connected one.

        `practised` says of each on which day it was last, in words.
        """
        super().__init__("warm-up" if pupil else "gather")
        self.pupil = pupil
        self.chosen: str | None = None
        self._marks = marks
        self._nicknames = list(marks)
        self._piano = piano
        self._practised = practised
        self._wanted = ""
        self._turning = Turning(len(marks), ROWS).at(self._nicknames.index(pupil) if pupil else 0)

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return a row for each pupil, the uses in columns, and the way out."""
        buttons = []
        for row, nickname in enumerate(self._found()[self._turning.shown]):
            box, chosen = _row(row, width, height), nickname == self.pupil
            outline, day = MARKS[self._marks[nickname]], self._practised.get(nickname)
            words = nickname if day is None else f"{nickname} · {day}"
            buttons.append(Button(PUPIL + nickname, words, box, chosen, 0.4, outline))
        buttons += self._turning.buttons(_row(ROWS, width, height), 0.36)
        for column, (_heading, uses) in enumerate(USES):
            for row, use in enumerate(uses):
                if self.pupil or not use.needs_pupil:
                    box = _cell(column, row, width, height)
                    buttons.append(Button(use.name, _(use.words), box, size=0.29))
        return [*buttons, Button(DONE, _("done"), _foot(width, height), size=0.4)]

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the headings, and which piano is heard."""
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        title, middle = self.pupil or _("no pupils yet"), width / 2
        page.append(text(title, middle, height * 0.085, height * 0.058, palette.INK, 0.9 * width))
        for column, (heading, uses) in enumerate(USES):
            if not any(self.pupil or not use.needs_pupil for use in uses):
                continue
            cell = _cell(column, 0, width, height)
            x, y = cell.x + cell.width / 2, cell.y - height * 0.02
            page.append(text(_(heading), x, y, height * 0.036, palette.PENCIL, cell.width))
        piano = (
            _("piano: {name}").format(name=self._piano)
            if self._piano
            else _("no piano is connected: the keyboard on the screen is played")
        )
        page.append(
            text(piano, middle, height * 0.128, height * 0.028, palette.PENCIL, 0.9 * width)
        )
        if len(self._nicknames) > ROWS:
            row = _row(0, width, height)
            sought = self._wanted or _("type to search")
            x, y = row.x + row.width / 2, row.y - height * 0.02
            page.append(text(sought, x, y, height * 0.03, palette.PENCIL, row.width))
        return page

    def typed(self, letters: str) -> None:
        """Show only pupils in whose nicknames these letters stand, and take the first in hand."""
        self._seek(self._wanted + "".join(letter for letter in letters if letter.isalnum()))

    def command(self, command: Command, at_ns: int) -> bool:
        """Take letters back; otherwise as on any page of buttons."""
        if command is Command.BACK:
            self._seek(self._wanted[:-1])
            return True
        return super().command(command, at_ns)

    def act(self, action: str) -> None:
        """Take another pupil in hand, or leave with what is to be done."""
        if action in (MORE, EARLIER):
            self._turning = self._turning.turned(action)
        elif action.startswith(PUPIL):
            self.pupil = action.removeprefix(PUPIL)
        else:
            self.over = True
            self.chosen = None if action == DONE else action

    def _seek(self, wanted: str) -> None:
        self._wanted = wanted
        found = self._found()
        self._turning = Turning(len(found), ROWS)
        if found and self.pupil not in found:
            self.pupil = found[0]
        elif found:
            self._turning = self._turning.at(found.index(self.pupil))

    def _found(self) -> list[str]:
        sought = _plain(self._wanted)
        return [nickname for nickname in self._nicknames if sought in _plain(nickname)]


def _plain(words: str) -> str:
    """Return words without case and accents, as they are searched."""
    letters = unicodedata.normalize("NFKD", words).casefold()
    return "".join(letter for letter in letters if not unicodedata.combining(letter))


def _row(row: int, width: int, height: int) -> Box:
    tall, gap, margin = round(height * 0.072), height // 80, height // 40
    return Box(margin, round(height * 0.2) + row * (tall + gap), round(width * 0.23), tall)


def _cell(column: int, row: int, width: int, height: int) -> Box:
    margin, tall, gap = height // 40, round(height * 0.092), height // 60
    left = round(width * 0.23) + 3 * margin
    across = (width - left - margin - 2 * gap) // 3
    return Box(
        left + column * (across + gap), round(height * 0.2) + row * (tall + gap), across, tall
    )


def _foot(width: int, height: int) -> Box:
    margin, tall, across = height // 40, round(height * 0.08), round(width * 0.22)
    return Box(width - margin - across, height - margin - tall, across, tall)
