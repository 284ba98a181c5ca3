"""How evenly a player taps: along with beats that are given, and going on when they have ended.

The task is that of Stevens (1886) as Wing and Kristofferson (1973, Perception & Psychophysics 14,
"Response delays and the timing of discrete motor responses") analyse it. Going on, an interval is
that of an inner clock and the delays of two taps: I(j) = C(j) + D(j) - D(j-1), so the variance of
intervals is var C + 2 var D, and neighbours vary against each other, by a correlation between -1/2
and 0. A drift, the steady change of the intervals, is taken out first: it is no unevenness.
Synchronising is another thing, for each beat that sounds corrects the tap; it is told apart, and in
what strays from the beat.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, median

from landmarks.chi_square import chi_square_quantile
from landmarks.student_t import student_quantile

CONFIDENCE = 0.95
FEWEST_INTERVALS = 6
"""Fewer intervals tell no spread that a lesson could go by."""
_BOUNCE = 0.4
"""Of a beat: a tap that follows the one before within it is not one beat later."""
_LONGEST_SKIP = 4
"""So many beats may lie between two taps that still belong to one going on."""
_DEPENDENCE = 1.5
"""Neighbouring intervals that correlate by r make the spread as unsure as if there were fewer
degrees of freedom, by 1 + 2 r² (Bartlett 1946); Wing and Kristofferson's r is -1/2 at most."""


@dataclass(frozen=True)
class Estimate:
    """A figure with the interval in which it lies in 95 of 100 such playings."""

    value: float
    low: float
    high: float
    degrees: float
    """Of freedom, on which the interval rests."""


@dataclass(frozen=True)
class Synchronising:
    """Tapping along: `spread` is how far taps stray about their own mean distance from the beat.

    In shares of a beat. `missed` are beats without a tap. How early the taps are on the whole is
    not told: it holds the delay of a loudspeaker.
    """

    taps: int
    missed: int
    extra: int
    spread: Estimate | None


@dataclass(frozen=True)
class GoingOn:
    """Going on alone: `spread` of the intervals, as a share of the mean one, the drift taken out.

    `drift` is the change of the interval from one beat to the next, as a share (negative: faster);
    `tempo` is the mean interval over the beat that was given. `skipped` are beats without a tap,
    `extra` taps between beats.
    """

    intervals: int
    skipped: int
    extra: int
    interval_ms: float | None = None
    tempo: Estimate | None = None
    spread: Estimate | None = None
    drift: Estimate | None = None


@dataclass(frozen=True)
class Pulse:
    """What was heard of a pulse."""

    beat_ms: float
    synchronising: Synchronising
    going_on: GoingOn


def hear_pulse(beats: Sequence[float], taps: Sequence[float]) -> Pulse:
    """Return what taps (ms, rising) tell after and along with beats (ms, rising, two or more)."""
    beat = (beats[-1] - beats[0]) / (len(beats) - 1)
    end = beats[-1] + beat / 2
    along = [tap for tap in taps if beats[0] - beat / 2 <= tap < end]
    alone = [tap for tap in taps if tap >= end]
    return Pulse(beat, _synchronising(beats, along, beat), _going_on(alone, beat))


def _synchronising(beats: Sequence[float], taps: Sequence[float], beat: float) -> Synchronising:
    nearest: dict[int, float] = {}
    for tap in taps:
        number = min(range(len(beats)), key=lambda place: abs(beats[place] - tap))
        stray = tap - beats[number]
        if number not in nearest or abs(stray) < abs(nearest[number]):
            nearest[number] = stray
    strays = [each / beat for each in nearest.values()]
    joined = len(beats) - min(nearest, default=len(beats))
    spread = None
    if len(strays) >= FEWEST_INTERVALS:
        middle = fmean(strays)
        spread = _spread(sum((each - middle) ** 2 for each in strays), len(strays) - 1)
    return Synchronising(len(taps), joined - len(nearest), len(taps) - len(nearest), spread)


@dataclass(frozen=True)
class _Interval:
    """From one tap to the next: how many beats it holds, the ms of one, its middle in beats."""

    beats: int
    ms: float
    middle: float


def _going_on(taps: Sequence[float], beat: float) -> GoingOn:
    intervals, extra = _intervals(taps, beat)
    skipped = sum(each.beats - 1 for each in intervals)
    if len(intervals) < FEWEST_INTERVALS:
        return GoingOn(len(intervals), skipped, extra)
    # An interval over k beats is the mean of k: it strays by 1/k of the variance and weighs k.
    weight = sum(each.beats for each in intervals)
    mean = sum(each.beats * each.ms for each in intervals) / weight
    centre = sum(each.beats * each.middle for each in intervals) / weight
    around = sum(each.beats * (each.middle - centre) ** 2 for each in intervals)
    slope = sum(each.beats * (each.middle - centre) * each.ms for each in intervals) / around
    squares = sum(
        each.beats * (each.ms - mean - slope * (each.middle - centre)) ** 2 for each in intervals
    )
    degrees = len(intervals) - 2
    reach = student_quantile(CONFIDENCE, degrees)
    of_drift = reach * math.sqrt(squares / degrees / around) / mean
    of_mean = reach * math.sqrt(squares / degrees / weight) / beat
    drift, tempo = slope / mean, mean / beat
    return GoingOn(
        len(intervals), skipped, extra, mean,
        Estimate(tempo, tempo - of_mean, tempo + of_mean, degrees),
        _spread(squares / mean**2, degrees),
        Estimate(drift, drift - of_drift, drift + of_drift, degrees),
    )  # fmt: skip


def _intervals(taps: Sequence[float], beat: float) -> tuple[list[_Interval], int]:
    """Return the intervals between taps that are beats of the player's own, and taps between."""
    kept, extra = list(taps[:1]), 0
    found: list[_Interval] = []
    own, done = beat, 0.0
    for tap in taps[1:]:
        gap = tap - kept[-1]
        if gap < _BOUNCE * own:
            extra += 1
            continue
        beats = max(1, round(gap / own))
        kept.append(tap)
        if beats > _LONGEST_SKIP:
            # She stopped and began again: nothing is known of the time between.
            done += beats
            continue
        found.append(_Interval(beats, gap / beats, done + beats / 2))
        done += beats
        own = median([beat, *(each.ms for each in found[-4:])])
    return found, extra


def _spread(squares: float, degrees: int) -> Estimate:
    """Return a standard deviation from a sum of squares, wide enough for neighbours that vary
    against each other.
    """
    value = math.sqrt(squares / degrees)
    fewer = degrees / _DEPENDENCE
    outside = (1 - CONFIDENCE) / 2
    return Estimate(
        value,
        value * math.sqrt(fewer / chi_square_quantile(1 - outside, fewer)),
        value * math.sqrt(fewer / chi_square_quantile(outside, fewer)),
        fewer,
    )
