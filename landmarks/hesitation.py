"""Where a player hesitated: the time beyond what a written length takes at her own local tempo.

Between two moments of the music the player takes so many seconds a quarter note. What a gap should
have taken is foretold from the gaps around it, never from itself: a line through the logarithms of
their seconds a quarter (Theil 1950, Sen 1968), so that a tempo that rises or falls is no
hesitation. Gaps that came late for certain are set aside and the rest is weighed anew, so that one
hesitation hides no other. How far gaps stray from what is foretold of them is
learnt from the earlier half of them: whoever hesitates comes late. From it follows the interval.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from statistics import fmean, median

from landmarks.student_t import student_quantile

NEIGHBOURS = 12
"""So many gaps around a gap tell what it should have taken: three bars of four. More blur a tempo
that changes; with fewer, simulated hesitations at every fourth note hid each other."""
FEWEST_GAPS = 6
"""Fewer gaps tell no tempo: a line through less than five, and how they stray, is no estimate."""
CONFIDENCE = 0.95
"""Of all intervals of one playing together (Bonferroni)."""
_EVEN_ENOUGH = 8
"""So many gaps must be left to learn from when those that came late are set aside."""
LEAST_STRAY = 0.05
"""Of the logarithm of seconds a quarter: nobody is taken to play more evenly than to one part in
twenty, the evenness of trained players who tap (Wing and Kristofferson 1973, from memory)."""
TOGETHER_MS = 50.0
"""Keys of one moment that go down within this time are together. Common practice, no source."""


@dataclass(frozen=True)
class MomentPlayed:
    """A moment of the music as it was played.

    `onset` is where it is written, in quarter notes; `first_ms` and `last_ms` are when the first
    and the last of its keys went down. `flows` tells that the player came straight from the moment
    before this one in the sequence: without a wrong key, a return or a leap.
    """

    onset: Fraction
    first_ms: float
    last_ms: float
    flows: bool


@dataclass(frozen=True)
class Hesitation:
    """How long a player came after her own tempo, in ms, with an interval from `low` to `high`.

    The intervals of one playing hold together in 95 of 100 playings. Negative is early.
    """

    ms: float
    low: float
    high: float

    @property
    def is_certain(self) -> bool:
        """Whether she came late beyond what unevenness explains."""
        return self.low > 0

    def later(self, ms: float) -> Hesitation:
        """Return the hesitation at a key that went down so much later than the moment's first.

        Keys that go down together came at one moment.
        """
        beyond = max(0.0, ms - TOGETHER_MS)
        return Hesitation(self.ms + beyond, self.low + beyond, self.high + beyond)


@dataclass(frozen=True)
class _Gap:
    """From one moment to the next: its quarters, its ms, and its middle in quarters played."""

    moment: int
    quarters: float
    ms: float
    middle: float

    @property
    def pace(self) -> float:
        """The logarithm of ms a quarter."""
        return math.log(self.ms / self.quarters)


@dataclass(frozen=True)
class _Foretold:
    """The pace that a gap should have had, and how much less sure that is than one gap's own."""

    pace: float
    widened: float


def find_hesitations(played: Sequence[MomentPlayed]) -> tuple[Hesitation | None, ...]:
    """Return the hesitation before each moment, in the order played.

    None where none can be told: at the first moment, where the player did not come straight from
    the moment before, and where too little was played to tell a tempo.
    """
    gaps = list(_gaps(played))
    found: list[Hesitation | None] = [None] * len(played)
    if len(gaps) < FEWEST_GAPS:
        return tuple(found)
    late: set[int] = set()
    while True:
        told = _weigh(gaps, late)
        later = {place for place, each in enumerate(told) if each.is_certain}
        if later <= late or len(gaps) - len(later | late) < _EVEN_ENOUGH:
            break
        late |= later
    for gap, each in zip(gaps, told, strict=True):
        found[gap.moment] = each
    return tuple(found)


def _weigh(gaps: Sequence[_Gap], late: Set[int]) -> list[Hesitation]:
    """Return the hesitation in each gap, as those foretell it that are not known to be late."""
    even = [place for place in range(len(gaps)) if place not in late]
    foretold = [_foretell(gaps, place, even) for place in range(len(gaps))]
    strayed = [
        (gaps[place].pace - foretold[place].pace) / foretold[place].widened for place in even
    ]
    early = sorted(strayed)[: math.ceil(len(strayed) / 2)]
    stray = max(LEAST_STRAY, math.sqrt(fmean(each**2 for each in early)))
    reach = stray * student_quantile(1 - (1 - CONFIDENCE) / len(gaps), len(early) - 1)
    return [
        _hesitation(gap, each.pace, reach * each.widened)
        for gap, each in zip(gaps, foretold, strict=True)
    ]


def _hesitation(gap: _Gap, pace: float, reach: float) -> Hesitation:
    due, longest, shortest = (
        gap.quarters * math.exp(pace + beyond) for beyond in (0.0, reach, -reach)
    )
    return Hesitation(gap.ms - due, gap.ms - longest, gap.ms - shortest)


def _gaps(played: Sequence[MomentPlayed]) -> Iterator[_Gap]:
    """Yield the gaps over which a player moved straight on."""
    done = 0.0
    for number in range(1, len(played)):
        before, here = played[number - 1], played[number]
        quarters, ms = float(here.onset - before.onset), here.first_ms - before.last_ms
        if here.flows and quarters > 0 and ms > 0:
            yield _Gap(number, quarters, ms, done + quarters / 2)
            done += quarters


def _foretell(gaps: Sequence[_Gap], place: int, even: Sequence[int]) -> _Foretold:
    """Return what the nearest of the even gaps foretell of one."""
    others = (each for each in even if each != place)
    nearest = sorted(others, key=lambda each: abs(each - place))[:NEIGHBOURS]
    around = [gaps[each] for each in nearest]
    rises = [
        (one.pace - other.pace) / (one.middle - other.middle)
        for one, other in combinations(around, 2)
    ]
    rise, here = median(rises), gaps[place].middle
    pace = median(each.pace + rise * (here - each.middle) for each in around)
    centre = fmean(each.middle for each in around)
    spread = sum((each.middle - centre) ** 2 for each in around)
    # As of a line through points by least squares (any textbook on regression).
    return _Foretold(pace, math.sqrt(1 + 1 / len(around) + (here - centre) ** 2 / spread))
