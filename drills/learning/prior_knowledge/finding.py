"""What was heard of a pupil at the piano, as a band with its figures, never as a grade.

A band suggests an answer; the answer is the teacher's. The borders between bands are priors of this
program, set beside what is published: see `PUBLISHED`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import comb
from typing import TYPE_CHECKING

import msgspec

from landmarks.chi_square import share_below
from landmarks.translation import gettext_noop

if TYPE_CHECKING:
    from landmarks.echo import Echo
    from landmarks.pulse import Estimate, Pulse


class Item(StrEnum):
    """What is listened for."""

    PULSE = "pulse"
    ECHO = "echo"
    DIRECTION = "higher-lower"


class Band(StrEnum):
    """How much of it was heard. `UNSURE` lies between, or too little was played to tell."""

    THERE = "there"
    UNSURE = "unsure"
    NOT_YET = "not-yet"


QUESTION_OF = {Item.PULSE: "pulse", Item.ECHO: "clap-back", Item.DIRECTION: "higher-lower"}
"""The question of what a pupil brings that each item answers."""
_SUGGESTS = {Band.THERE: "yes", Band.NOT_YET: "not-yet"}

STEADY_SPREAD = 0.12
"""Of the interval: whoever strays less than this keeps a pulse that others can play to."""
LARGEST_DRIFT = 0.02
"""From beat to beat: in twelve beats a tempo would be a quarter faster or slower."""
SURE = 0.9
"""So probable must it be that the spread lies below the border, or above it."""
MOST_OF_A_RHYTHM, SOME_OF_A_RHYTHM = 0.75, 0.5
GUESS = 1 / 3
"""Higher, lower or the same."""
BY_GUESSING = 0.05, 0.25
"""Rarer by guessing than the first, and it is heard; likelier than the second, and it is not."""


@dataclass(frozen=True)
class Published:
    """What a study found, to stand beside a band."""

    words: str
    source: str


PUBLISHED: dict[Item, tuple[Published, ...]] = {
    Item.PULSE: (
        Published(
            gettext_noop(
                "Grown-ups who tap a finger on a pad or a contact at 500 to 900 ms stray by 3 to "
                "6 per cent of the interval, children of six to eight by about twice that. A pad "
                "is not a piano key: a key has a way to go down."
            ),
            gettext_noop(
                "Drewing, Aschersleben and Li 2006; Drake, Jones and Baruch 2000; from memory"
            ),
        ),
        Published(
            gettext_noop(
                "Children of 3 to 11 who went on tapping strayed least near 500 ms and drifted "
                "towards 500 to 600 ms from slower beats."
            ),
            gettext_noop("99 children; Perceptual and Motor Skills 85, 1997, abstract"),
        ),
    ),
}
"""By item; nothing comparable is known for the others."""


class Finding(msgspec.Struct, frozen=True, kw_only=True):
    """What was heard of one item: its band, and the raw figures by their names."""

    item: Item
    band: Band
    figures: dict[str, float]

    @property
    def suggests(self) -> str | None:
        """The answer that the band speaks for, None if for none."""
        return _SUGGESTS.get(self.band)


def pulse_finding(pulse: Pulse) -> Finding:
    """Return what going on tells of a pulse; tapping along is told beside it, and decides nothing.

    Figures: `taps`, `skipped`, `extra`, `beat_ms`; where enough was played `interval_ms`, `tempo`,
    `spread` and `drift` with `_low` and `_high`, `sure` (the probability that the spread is below
    the border), `along` (the spread about the beats that were given) with `_low` and `_high`.
    """
    alone, along = pulse.going_on, pulse.synchronising
    figures = {
        "beat_ms": pulse.beat_ms, "taps": float(alone.intervals), "along_taps": float(along.taps),
        "skipped": float(alone.skipped), "extra": float(alone.extra),
    }  # fmt: skip
    figures |= _figures("along", along.spread)
    if alone.spread is None or alone.drift is None or alone.interval_ms is None:
        return _finding(Item.PULSE, Band.UNSURE, figures)
    sure = 1 - share_below(
        alone.spread.degrees * (alone.spread.value / STEADY_SPREAD) ** 2, alone.spread.degrees
    )
    figures |= {"interval_ms": alone.interval_ms, "sure": sure}
    figures |= _figures("tempo", alone.tempo) | _figures("spread", alone.spread)
    figures |= _figures("drift", alone.drift)
    drifts = alone.drift.low > LARGEST_DRIFT or alone.drift.high < -LARGEST_DRIFT
    if sure <= 1 - SURE:
        return _finding(Item.PULSE, Band.NOT_YET, figures)
    is_there = sure >= SURE and not drifts and alone.skipped * 4 <= alone.intervals
    return _finding(Item.PULSE, Band.THERE if is_there else Band.UNSURE, figures)


def echo_finding(echo: Echo) -> Finding:
    """Return how much of a rhythm came back.

    Figures: `lengths` and `kept`, `turns` and `in_order`, `changed`, `left_out`, `added`, `tempo`,
    `spread`, and the share that would come back on the whole from `low` to `high`.
    """
    low, high = echo.share
    figures = {
        "lengths": float(echo.lengths), "kept": float(echo.kept), "turns": float(echo.turns),
        "in_order": float(echo.in_order), "changed": float(len(echo.changed)),
        "left_out": float(len(echo.left_out)), "added": float(len(echo.added)),
        "tempo": echo.tempo, "spread": echo.spread, "low": low, "high": high,
    }  # fmt: skip
    share = echo.kept / echo.lengths
    band = (
        Band.THERE
        if share >= MOST_OF_A_RHYTHM
        else Band.UNSURE
        if share >= SOME_OF_A_RHYTHM
        else Band.NOT_YET
    )
    return _finding(Item.ECHO, band, figures)


def direction_finding(answers: Sequence[tuple[int, bool]]) -> Finding:
    """Return what was heard of higher, lower and the same.

    `answers` are the distance between two tones in semitones, negative for down, and whether the
    pupil moved the same way. Figures: `right`, `tried`, `by_guessing` (the probability of as many
    by guessing), `nearest` (the least distance, in semitones, that was heard; left out if none).
    """
    right, tried = sum(is_right for _distance, is_right in answers), len(answers)
    guessed = sum(
        comb(tried, k) * GUESS**k * (1 - GUESS) ** (tried - k) for k in range(right, tried + 1)
    )
    heard = [abs(distance) for distance, is_right in answers if is_right and distance]
    figures = {"right": float(right), "tried": float(tried), "by_guessing": guessed}
    if heard:
        figures["nearest"] = float(min(heard))
    rare, usual = BY_GUESSING
    band = Band.THERE if guessed < rare else Band.NOT_YET if guessed > usual else Band.UNSURE
    return _finding(Item.DIRECTION, band if tried else Band.UNSURE, figures)


def _finding(item: Item, band: Band, figures: dict[str, float]) -> Finding:
    return Finding(
        item=item, band=band, figures={name: round(value, 6) for name, value in figures.items()}
    )


def _figures(name: str, estimate: Estimate | None) -> dict[str, float]:
    if estimate is None:
        return {}
    return {name: estimate.value, f"{name}_low": estimate.low, f"{name}_high": estimate.high}
