"""The page on which a teacher sets how one pupil practises, with a live example."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import msgspec

from drills.cards.card import cards_of
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, beginning, rectangle, text
from drills.engrave.theme import THEMES
from drills.engrave.words import broken
from drills.sessions.view import Phase, View
from drills.storage.settings import Settings
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.card_page import PageSetting, practice_page
from landmarks.names import NAMINGS, usual_naming
from landmarks.sets import LandmarkSet, built_in_sets
from landmarks.translation import _, gettext_noop, ngettext

DONE, TURN = "done", "turn"


@dataclass(frozen=True)
class Choice:
    """Something to set: its field, its words, its values with theirs, and what it does."""

    field: str
    words: str
    values: tuple[tuple[Any, str], ...]
    does: str


ASKED = (
    Choice(
        "steps",
        gettext_noop("steps"),
        ((None, gettext_noop("by the set")), (0, gettext_noop("none")), (1, "1"), (2, "2")),
        gettext_noop("How many steps away from each landmark, up and down, are asked as well."),
    ),
    Choice(
        "ladder",
        gettext_noop("ladder"),
        ((True, gettext_noop("follow it")), (False, gettext_noop("notes only"))),
        gettext_noop(
            "Whether practice climbs from shapes and keys to notes, once you have set down what "
            "the pupil brings."
        ),
    ),
    Choice(
        "upkeep",
        gettext_noop("upkeep"),
        ((True, gettext_noop("while time is left")), (False, gettext_noop("none"))),
        gettext_noop("Whether notes in ink are asked again, ever more seldom, while time is left."),
    ),
    Choice(
        "minutes",
        gettext_noop("minutes"),
        ((4, "4"), (8, "8"), (12, "12"), (20, "20")),
        gettext_noop("How long a session lasts; a home plan made from now on lasts as long."),
    ),
    Choice(
        "fluent_factor",
        gettext_noop("fluent within"),
        (
            (2.0, gettext_noop("2 times")),
            (2.5, gettext_noop("2½ times")),
            (3.0, gettext_noop("3 times")),
            (4.0, gettext_noop("4 times")),
        ),
        gettext_noop(
            "A note counts as fluent within so many times the seconds that this pupil needs to "
            "press a key that is shown."
        ),
    ),
    Choice(
        "fluent_cap",
        gettext_noop("and within"),
        (
            (3.0, gettext_noop("3 s")),
            (4.0, gettext_noop("4 s")),
            (6.0, gettext_noop("6 s")),
            (8.0, gettext_noop("8 s")),
        ),
        gettext_noop("Slower than this is never fluent, however slow the hand is."),
    ),
)
"""What is asked, below the landmarks."""

SHOWN = (
    Choice(
        "names",
        gettext_noop("names"),
        (
            (None, gettext_noop("as brought")),
            ("letter", "C D E"),
            ("fixed-do", "do re mi"),
            ("german", "C D E … H"),
        ),
        gettext_noop("How notes are named, in the window and on what is printed."),
    ),
    Choice(
        "values",
        gettext_noop("note values"),
        (
            (None, gettext_noop("not asked")),
            ("british", gettext_noop("crotchet")),
            ("american", gettext_noop("quarter note")),
            ("syllables", "ta"),
        ),
        gettext_noop(
            "Whether note values are looked for in lines of music, and what they are called."
        ),
    ),
    Choice(
        "grand",
        gettext_noop("staves"),
        ((False, gettext_noop("the note's own")), (True, gettext_noop("both"))),
        gettext_noop("Whether a card shows one stave or both."),
    ),
    Choice(
        "look",
        gettext_noop("look"),
        (("paper", gettext_noop("paper")), ("high contrast", gettext_noop("high contrast"))),
        gettext_noop("High contrast is black on white, for eyes that need it."),
    ),
    Choice(
        "size",
        gettext_noop("size"),
        (("usual", gettext_noop("usual")), ("large", gettext_noop("large"))),
        gettext_noop("Large notes and words take room from the margins and from the keys."),
    ),
    Choice(
        "motion",
        gettext_noop("a found note"),
        ((True, gettext_noop("turns to ink slowly")), (False, gettext_noop("at once"))),
        gettext_noop("Slowly is a quarter of a second; at once is for eyes that motion disturbs."),
    ),
    Choice(
        "quiet",
        gettext_noop("keyboard"),
        ((False, gettext_noop("sounds")), (True, gettext_noop("is silent"))),
        gettext_noop(
            "Whether the keyboard on the screen sounds; a connected piano sounds by itself."
        ),
    ),
    Choice(
        "speech",
        gettext_noop("voice"),
        ((False, gettext_noop("is silent")), (True, gettext_noop("reads out"))),
        gettext_noop(
            "Reads out what is written, and the button in focus. Keep the loudspeaker low."
        ),
    ),
)
"""How it looks and sounds."""

MOST_LINES = 6
"""There is room for so many beside the rows; longer sentences are set smaller."""
NO_VOICE = gettext_noop("This machine has no voice; espeak-ng gives it one.")


class SettingsPage(ButtonScene):
    """Two leaves of choices; every press is kept at once, and the example follows it."""

    def __init__(
        self,
        nickname: str,
        settings: Settings,
        landmarks_named: Callable[[str], LandmarkSet],
        keep: Callable[[Settings], None],
        has_voice: bool,
    ) -> None:
        """Show `settings`; `landmarks_named` reads a set, `keep` writes what is changed."""
        super().__init__("landmarks/0")
        self.settings = settings
        self._nickname = nickname
        self._landmarks_named = landmarks_named
        self._keep = keep
        self._has_voice = has_voice
        self._leaves = (_set_choice(settings), *ASKED), SHOWN
        self._leaf = 0

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the values of everything on this leaf, row by row, and what leads on."""
        buttons = []
        choices = self._leaves[self._leaf]
        for row, choice in enumerate(choices):
            box = _row(row, len(choices), width, height)
            chosen = getattr(self.settings, choice.field)
            offered = _offered(choice, chosen)
            for column, (place, words) in enumerate(offered):
                is_chosen = choice.values[place][0] == chosen
                cell = _cell(box, column, len(offered))
                buttons.append(
                    Button(
                        f"{choice.field}/{place}", words, cell, is_chosen, 0.42,
                        about=_(choice.words),
                    )
                )  # fmt: skip
        turn = _("look and sound …") if self._leaf == 0 else _("what is asked …")
        return [
            *buttons,
            Button(TURN, turn, _foot(width, height, 1), size=0.36),
            Button(DONE, _("done"), _foot(width, height, 0), size=0.36),
        ]

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the words of the rows, and the example."""
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        title = _("how {name} practises").format(name=self._nickname)
        page.append(
            text(title, width / 2, height * 0.085, height * 0.055, palette.INK, 0.9 * width)
        )
        left = height // 40
        choices = self._leaves[self._leaf]
        for row, choice in enumerate(choices):
            box = _row(row, len(choices), width, height)
            baseline, room = box.y + box.height / 2 + 0.012 * height, box.x - 2 * left
            page.append(
                beginning(_(choice.words), left, baseline, height * 0.034, palette.INK, room)
            )
        page += self._example(width, height)
        return page

    def act(self, action: str) -> None:
        """Set a value, turn the leaf, or go."""
        if action == DONE:
            self.over = True
            return
        if action == TURN:
            self._leaf = 1 - self._leaf
            return
        choice, place = self._pressed(action)
        value = choice.values[place][0]
        if getattr(self.settings, choice.field) != value:
            self.settings = msgspec.structs.replace(self.settings, **{choice.field: value})
            self._keep(self.settings)

    def _pressed(self, action: str) -> tuple[Choice, int]:
        field, _slash, place = action.partition("/")
        choices = (choice for leaf in self._leaves for choice in leaf)
        return next(choice for choice in choices if choice.field == field), int(place)

    def _does(self) -> str:
        if self.focus in (DONE, TURN):
            return _("Kept as you touch it. The example shows a card as it will be.")
        choice, _place = self._pressed(self.focus)
        return _(NO_VOICE if choice.field == "speech" and not self._has_voice else choice.does)

    def _example(self, width: int, height: int) -> list[Layer]:
        """Draw the page of a card as it will be, and say what the button in focus does to it."""
        landmarks = self.settings.stepped(self._landmarks_named(self.settings.landmarks))
        cards = cards_of(landmarks)
        box = _example_box(width, height)
        naming = NAMINGS[self.settings.names] if self.settings.names else usual_naming()
        large = self.settings.size == "large"
        setting = PageSetting(width, height, self.settings.grand, naming, cards, large)
        found = View(showing=1, card=cards[0], phase=Phase.RIGHT, held=frozenset({cards[0].key}))
        page = THEMES[self.settings.look].layers(practice_page(found, setting))
        drawn = "".join(layer.markup for layer in page)
        scale = f"translate({box.x},{box.y}) scale({box.width / width:.5f})"
        asked = ngettext("{count} note is asked", "{count} notes are asked", len(cards))
        size, does = height * 0.037, self._does().split()
        if len(broken(does, " ", size, box.width)) > MOST_LINES:
            size *= 0.8
        lines = [asked, "", *broken(does, " ", size, box.width)]
        return [
            rectangle(_edged(box), palette.PENCIL),
            Layer(box, f'<g transform="{scale}">{drawn}</g>'),
            *(
                beginning(
                    words, box.x, box.bottom + (1.6 + 1.3 * at) * size, size, palette.INK, box.width
                )
                for at, words in enumerate(lines)
                if words
            ),
        ]


def _offered(choice: Choice, chosen: Any) -> list[tuple[int, str]]:
    """Return the places of a choice's values with their words, each word once.

    Two ways of naming may be one in the reader's language; the chosen one stands for both.
    """
    by_words: dict[str, int] = {}
    for place, (value, words) in enumerate(choice.values):
        if _(words) not in by_words or value == chosen:
            by_words[_(words)] = place
    return [(place, words) for words, place in by_words.items()]


def _set_choice(settings: Settings) -> Choice:
    sets = {name: found.title for name, found in built_in_sets().items()}
    own = {settings.landmarks: _("your file")} if settings.landmarks not in sets else {}
    return Choice(
        "landmarks",
        gettext_noop("landmarks"),
        tuple((name, name) for name in sets) + tuple(own.items()),
        gettext_noop("The landmark notes that this pupil holds on to, the first one taught first."),
    )


def _row(row: int, count: int, width: int, height: int) -> Box:
    top, room = height * 0.13, height * 0.74
    each = min(room / count, height * 0.105)
    left = round(width * 0.2)
    return Box(left, round(top + row * each), round(width * 0.65) - left, round(each * 0.84))


def _cell(box: Box, place: int, count: int) -> Box:
    gap = box.height // 6
    each = (box.width - gap * (count - 1)) / count
    return Box(round(box.x + place * (each + gap)), box.y, round(each), box.height)


def _example_box(width: int, height: int) -> Box:
    """Return the box of the example, which has the shape of the window."""
    left, margin = round(width * 0.675), height // 40
    across = width - left - margin
    return Box(left, round(height * 0.14), across, round(across * height / width))


def _edged(box: Box) -> Box:
    return Box(box.x - 1, box.y - 1, box.width + 2, box.height + 2)


def _foot(width: int, height: int, from_right: int) -> Box:
    margin, tall, across = height // 40, round(height * 0.085), round(width * 0.205)
    left = width - (margin + across) * (from_right + 1)
    return Box(left, height - margin - tall, across, tall)
