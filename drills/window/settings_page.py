"""The page on which a teacher sets how one pupil practises, with a live example."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import msgspec

from drills.card import cards_of
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, beginning, rectangle, text
from drills.engrave.stave_card import Look, empty_card, engraved_stave, note, stave_card
from drills.engrave.words import broken
from drills.settings import Settings
from drills.window.buttons import Button, ButtonScene
from landmarks.names import NAMINGS, usual_naming
from landmarks.sets import LandmarkSet, built_in_sets
from landmarks.stave import BASS, TREBLE
from landmarks.translation import _, noted

DONE = "done"


@dataclass(frozen=True)
class Choice:
    """Something to set: its field, its words, its values with theirs, and what it does."""

    field: str
    words: str
    values: tuple[tuple[Any, str], ...]
    does: str


CHOICES = (
    Choice(
        "steps", noted("steps"),
        ((None, noted("as the set says")), (0, noted("none")), (1, "1"), (2, "2")),
        noted("How many steps away from each landmark, up and down, are asked as well."),
    ),
    Choice(
        "ladder", noted("ladder"), ((True, noted("follow it")), (False, noted("notes only"))),
        noted("Whether practice climbs from shapes and keys to notes, once you have set down what "
              "the pupil brings."),
    ),
    Choice(
        "minutes", noted("minutes"), ((4, "4"), (8, "8"), (12, "12"), (20, "20")),
        noted("How long a session lasts; a home plan made from now on lasts as long."),
    ),
    Choice(
        "fluent_factor", noted("fluent within"),
        ((2.0, noted("2 times")), (2.5, noted("2½ times")), (3.0, noted("3 times")),
         (4.0, noted("4 times"))),
        noted("A note counts as fluent within so many times the seconds that this pupil needs to "
              "press a key that is shown."),
    ),
    Choice(
        "fluent_cap", noted("and within"),
        ((3.0, noted("3 s")), (4.0, noted("4 s")), (6.0, noted("6 s")), (8.0, noted("8 s"))),
        noted("Slower than this is never fluent, however slow the hand is."),
    ),
    Choice(
        "names", noted("names"),
        ((None, noted("as brought")), ("letter", "C D E"), ("fixed-do", "do re mi"),
         ("german", "C D E … H")),
        noted("How notes are named, in the window and on what is printed."),
    ),
    Choice(
        "values", noted("note values"),
        ((None, noted("not asked")), ("british", noted("crotchet")),
         ("american", noted("quarter note")), ("syllables", "ta")),
        noted("Whether note values are looked for in lines of music, and what they are called."),
    ),
    Choice(
        "grand", noted("staves"), ((False, noted("the note's own")), (True, noted("both"))),
        noted("Whether a card shows one stave or both."),
    ),
    Choice(
        "quiet", noted("keyboard on the screen"),
        ((False, noted("sounds")), (True, noted("is silent"))),
        noted("Whether the keyboard on the screen sounds; a connected piano sounds by itself."),
    ),
)  # fmt: skip


class SettingsPage(ButtonScene):
    """Every press is kept at once; the example and the sentence below follow it."""

    def __init__(
        self,
        nickname: str,
        settings: Settings,
        landmarks_named: Callable[[str], LandmarkSet],
        keep: Callable[[Settings], None],
    ) -> None:
        """Show `settings`; `landmarks_named` reads a set, `keep` writes what is changed."""
        super().__init__("landmarks/0")
        self.settings = settings
        self._nickname = nickname
        self._landmarks_named = landmarks_named
        self._keep = keep
        self._choices = (_set_choice(settings), *CHOICES)

    def buttons(self, width: int, height: int) -> list[Button]:
        """Give the values of everything that can be set, row by row."""
        buttons = []
        for row, choice in enumerate(self._choices):
            box = _row(row, len(self._choices), width, height)
            chosen = getattr(self.settings, choice.field)
            for place, (value, words) in enumerate(choice.values):
                action = f"{choice.field}/{place}"
                cell = _cell(box, place, len(choice.values))
                buttons.append(Button(action, _(words), cell, value == chosen, size=0.42))
        return [*buttons, Button(DONE, _("done"), _foot(width, height), size=0.4)]

    def page(self, width: int, height: int) -> list[Layer]:
        """Give the words of the rows, the example, and what the button in focus does."""
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        title = _("how {name} practises").format(name=self._nickname)
        page.append(
            text(title, width / 2, height * 0.085, height * 0.055, palette.INK, 0.9 * width)
        )
        left = height // 40
        for row, choice in enumerate(self._choices):
            box = _row(row, len(self._choices), width, height)
            baseline, room = box.y + 0.66 * box.height, box.x - 2 * left
            page.append(
                beginning(_(choice.words), left, baseline, height * 0.03, palette.INK, room)
            )
        page += self._example(width, height)
        size, within = height * 0.03, 0.7 * width
        for line, words in enumerate(broken(self._does().split(), " ", size, within)):
            baseline = height * (0.925 + 0.042 * line)
            page.append(beginning(words, left, baseline, size, palette.PENCIL, within))
        return page

    def act(self, action: str) -> None:
        """Set a value, or leave."""
        if action == DONE:
            self.over = True
            return
        choice, place = self._pressed(action)
        value = choice.values[place][0]
        if getattr(self.settings, choice.field) != value:
            self.settings = msgspec.structs.replace(self.settings, **{choice.field: value})
            self._keep(self.settings)

    def _pressed(self, action: str) -> tuple[Choice, int]:
        field, _slash, place = action.partition("/")
        return next(choice for choice in self._choices if choice.field == field), int(place)

    def _does(self) -> str:
        if self.focus == DONE:
            return _("Kept as you touch it. The example shows a card as it will be.")
        return _(self._pressed(self.focus)[0].does)

    def _example(self, width: int, height: int) -> list[Layer]:
        """Draw the notes that will be asked on the stave, and the name of the first landmark."""
        landmarks = self.settings.stepped(self._landmarks_named(self.settings.landmarks))
        cards = cards_of(landmarks)
        first = cards[0]
        clefs = (TREBLE, BASS) if self.settings.grand else (first.clef,)
        box = _example_box(width, height)
        staves = stave_card(box, clefs)
        layers = [*empty_card(box), engraved_stave(staves)]
        layers.append(note(staves, first.clef, first.target, Look.INK, 11.0))
        naming = NAMINGS[self.settings.names] if self.settings.names else usual_naming()
        middle, room = box.x + box.width / 2, 0.95 * box.width
        name = first.named(naming)
        layers.append(
            text(name, middle, box.bottom - 0.05 * height, height * 0.042, palette.INK, room)
        )
        asked = _("{count} notes are asked").format(count=len(cards))
        layers.append(
            text(asked, middle, box.bottom - 0.012 * height, height * 0.026, palette.PENCIL, room)
        )
        return layers


def _set_choice(settings: Settings) -> Choice:
    sets = {name: found.title for name, found in built_in_sets().items()}
    own = {settings.landmarks: _("your file")} if settings.landmarks not in sets else {}
    return Choice(
        "landmarks",
        noted("landmarks"),
        tuple((name, name) for name in sets) + tuple(own.items()),
        noted("The landmark notes that this pupil holds on to, the first one taught first."),
    )


def _row(row: int, count: int, width: int, height: int) -> Box:
    top, room = height * 0.13, height * 0.74
    each = room / count
    left = round(width * 0.2)
    return Box(left, round(top + row * each), round(width * 0.7) - left, round(each * 0.84))


def _cell(box: Box, place: int, count: int) -> Box:
    gap = box.height // 6
    each = (box.width - gap * (count - 1)) / count
    return Box(round(box.x + place * (each + gap)), box.y, round(each), box.height)


def _example_box(width: int, height: int) -> Box:
    left, margin = round(width * 0.72), height // 40
    return Box(left, round(height * 0.13), width - left - margin, round(height * 0.62))


def _foot(width: int, height: int) -> Box:
    margin, tall, across = height // 40, round(height * 0.08), round(width * 0.22)
    return Box(width - margin - across, height - margin - tall, across, tall)
