"""The teacher's page: her pupils on the left, and all that can be done for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.marks import MARKS
from landmarks.translation import _, gettext_noop

DONE, MORE = "done", "more pupils"
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

    def __init__(self, marks: Mapping[str, str], pupil: str, piano: str | None) -> None:
        """Show the pupils; `pupil` is the one in hand ("" for none), `piano` the connected one."""
        super().__init__("warm-up" if pupil else "gather")
        self.pupil = pupil
        self.chosen: str | None = None
        self._marks = marks
        self._nicknames = list(marks)
        self._piano = piano
        place = self._nicknames.index(pupil) if pupil else 0
        self._first = place - place % ROWS

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return a row for each pupil, the uses in columns, and the way out."""
        buttons = []
        for row, nickname in enumerate(self._nicknames[self._first : self._first + ROWS]):
            box, chosen = _row(row, width, height), nickname == self.pupil
            outline = MARKS[self._marks[nickname]]
            buttons.append(Button(PUPIL + nickname, nickname, box, chosen, 0.4, outline))
        if len(self._nicknames) > ROWS:
            buttons.append(Button(MORE, _("more pupils"), _row(ROWS, width, height), size=0.36))
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
        return page

    def act(self, action: str) -> None:
        """Take another pupil in hand, or leave with what is to be done."""
        if action == MORE:
            self._first = 0 if self._first + ROWS >= len(self._nicknames) else self._first + ROWS
        elif action.startswith(PUPIL):
            self.pupil = action.removeprefix(PUPIL)
        else:
            self.over = True
            self.chosen = None if action == DONE else action


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
