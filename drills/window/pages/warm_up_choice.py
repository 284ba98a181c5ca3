"""The page on which a warm-up is ready: its notes, and how the teacher narrows them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from drills.cards.card import Card
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.learning.response import Standing, State
from drills.learning.warm_up import LENGTHS, Filter, Reach, proposal
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.long_stave import notes_on_stave
from landmarks.names import Naming, landmark_name
from landmarks.pitch import Pitch
from landmarks.sets import LandmarkSet
from landmarks.stave import BASS, CLEFS, TREBLE
from landmarks.translation import _, gettext_noop, ngettext

START = "start"
SECONDS_A_CARD = 8
"""With the look at the found note and a slip now and then. Common practice, no source."""
KEYS = gettext_noop(
    "Tab your notes · Backspace again · Space on · ↑ hint · Enter answer · Esc stop"
)

_STAVES = {
    gettext_noop("both staves"): frozenset(CLEFS.values()),
    gettext_noop("treble"): frozenset({TREBLE}),
    gettext_noop("bass"): frozenset({BASS}),
}
_REACHES = {
    gettext_noop("landmarks and steps"): Reach.BOTH,
    gettext_noop("landmarks"): Reach.LANDMARKS,
    gettext_noop("steps"): Reach.STEPS,
}


@dataclass(frozen=True)
class _Option:
    words: str
    chosen: bool
    leads_to: Filter


class WarmUpChoice(ButtonScene):
    """Ready at once; every narrowing shows its notes at once."""

    def __init__(
        self,
        nickname: str,
        cards: Sequence[Card],
        standing: Callable[[Card], Standing],
        landmarks: LandmarkSet,
        naming: Naming,
    ) -> None:
        """Propose a warm-up from `cards`, in the order of teaching."""
        super().__init__(START)
        self._nickname = nickname
        self._cards = cards
        self._standings = {card: standing(card) for card in cards}
        self._landmarks = landmarks
        self._naming = naming
        self._narrow(Filter())
        self.started = False

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the rows of choices, and the large button that starts."""
        buttons = []
        for row, options in enumerate(self._rows()):
            for place, option in enumerate(options):
                box = _option_box(row, place, len(options), width, height)
                buttons.append(Button(f"{row}.{place}", option.words, box, option.chosen))
        if self.asked:
            buttons.append(Button(START, _("start"), _start_box(width, height), size=0.24))
        return buttons

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the notes of the warm-up on a grand stave, and how long it takes."""
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        middle = width / 2
        headline = _("a warm-up for {name}").format(name=self._nickname)
        page.append(
            text(headline, middle, height * 0.085, height * 0.062, palette.INK, 0.95 * width)
        )
        page.append(
            text(
                self._length(), middle, height * 0.135, height * 0.034, palette.PENCIL, 0.95 * width
            )
        )
        margin = height // 40
        box = Box(margin, round(height * 0.165), width - 2 * margin, round(height * 0.395))
        page += notes_on_stave(box, _states(self.asked, self._standings))
        page.append(
            text(_(KEYS), middle, height * 0.975, height * 0.026, palette.PENCIL, 0.95 * width)
        )
        return page

    def act(self, action: str) -> None:
        """Start, or narrow."""
        if action == START:
            self.started = self.over = bool(self.asked)
            return
        row, _dot, place = action.partition(".")
        self._narrow(self._rows()[int(row)][int(place)].leads_to)

    def _narrow(self, narrowing: Filter) -> None:
        self._narrowing = narrowing
        self.asked = proposal(self._cards, self._standings.__getitem__, narrowing)

    def _length(self) -> str:
        if not self.asked:
            return _("no note is left: take something in again")
        seconds = round(len(self.asked) * SECONDS_A_CARD, -1)
        return ngettext(
            "{count} card, about {seconds} seconds", "{count} cards, about {seconds} seconds",
            len(self.asked), seconds=seconds,
        )  # fmt: skip

    def _rows(self) -> list[list[_Option]]:
        narrowing = self._narrowing
        return [
            [self._landmark(pitch) for pitch in _pitches(self._landmarks)],
            [
                _Option(_(words), narrowing.clefs == clefs, replace(narrowing, clefs=clefs))
                for words, clefs in _STAVES.items()
            ],
            [
                _Option(_(words), narrowing.reach is reach, replace(narrowing, reach=reach))
                for words, reach in _REACHES.items()
            ],
            [
                _Option(
                    _("{count} cards").format(count=length), narrowing.length == length,
                    replace(narrowing, length=length),
                )
                for length in LENGTHS
            ],
        ]  # fmt: skip

    def _landmark(self, pitch: Pitch) -> _Option:
        clef = next(anchor.clef for anchor in self._landmarks.anchors if anchor.pitch == pitch)
        name = landmark_name(pitch, clef, self._naming)
        chosen = pitch not in self._narrowing.left_out
        return _Option(name, chosen, self._narrowing.toggled(pitch))


def _pitches(landmarks: LandmarkSet) -> list[Pitch]:
    return sorted({anchor.pitch for anchor in landmarks.anchors})


def _states(
    asked: Sequence[Card], standings: Mapping[Card, Standing]
) -> Iterator[tuple[Card, State]]:
    for card in dict.fromkeys(asked):
        yield card, standings[card].state


def _option_box(row: int, place: int, count: int, width: int, height: int) -> Box:
    margin = height // 40
    across = width - 2 * margin if row == 0 else round(width * 0.66) - margin
    gap = margin // 2
    each = (across - gap * (count - 1)) / count
    tall = round(height * 0.074)
    top = round(height * 0.588) + row * (tall + gap)
    return Box(round(margin + place * (each + gap)), top, round(each), tall)


def _start_box(width: int, height: int) -> Box:
    margin = height // 40
    first, last = _option_box(1, 0, 3, width, height), _option_box(3, 2, 3, width, height)
    left = last.right + 2 * margin
    top, bottom = first.y + margin // 2, last.bottom - margin // 2
    return Box(left, top, width - margin - margin // 2 - left, bottom - top)
