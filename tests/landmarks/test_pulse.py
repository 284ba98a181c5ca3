"""Simulated tappers with known spread, drift and skips, and what is heard of them."""

import itertools
import math
from statistics import fmean, stdev

import pytest
from scipy import stats

from landmarks.chi_square import chi_square_quantile, share_below
from landmarks.pulse import hear_pulse
from tests.landmarks.tappers import beats_of, chance_of, go_on, tap_along

TAPPERS = 400


@pytest.mark.parametrize("degrees", [1, 2.5, 4, 9.33, 14, 40, 200])
@pytest.mark.parametrize("share", [0.001, 0.025, 0.5, 0.9, 0.975, 0.999])
def test_chi_squared_agrees_with_scipy(degrees, share):
    expected = stats.chi2.ppf(share, degrees)
    assert chi_square_quantile(share, degrees) == pytest.approx(expected, rel=1e-9)
    assert share_below(expected, degrees) == pytest.approx(share, abs=1e-12)


def test_without_skips_drift_and_its_interval_are_those_of_a_line_by_least_squares():
    """scipy.stats.linregress, through the intervals by their number."""
    beats = beats_of(600)
    taps = go_on(beats, 17, chance_of(3), drift=0.004)
    heard = hear_pulse(beats, taps).going_on
    intervals = [later - earlier for earlier, later in itertools.pairwise(taps)]
    line = stats.linregress(range(len(intervals)), intervals)
    mean = fmean(intervals)
    reach = stats.t.ppf(0.975, len(intervals) - 2) * line.stderr / mean
    assert heard.interval_ms == pytest.approx(mean)
    assert heard.drift.value == pytest.approx(line.slope / mean)
    assert heard.drift.high - heard.drift.value == pytest.approx(reach)
    residuals = [y - line.intercept - line.slope * x for x, y in enumerate(intervals)]
    degrees = len(intervals) - 2
    spread = math.sqrt(sum(each**2 for each in residuals) / degrees) / mean
    assert heard.spread.value == pytest.approx(spread)
    fewer = degrees / 1.5
    low, high = (math.sqrt(fewer / stats.chi2.ppf(share, fewer)) for share in (0.975, 0.025))
    assert heard.spread.low == pytest.approx(spread * low)
    assert heard.spread.high == pytest.approx(spread * high)


@pytest.mark.parametrize("beat", [500, 700, 900])
@pytest.mark.parametrize(
    ("clock", "delay", "drift", "skips"),
    [(0.04, 0.02, 0.0, ()), (0.08, 0.0, 0.006, ()), (0.06, 0.03, -0.005, (4, 9)),
     (0.02, 0.05, 0.0, (3, 4, 11))],
)  # fmt: skip
def test_the_true_spread_and_drift_lie_in_their_intervals(beat, clock, delay, drift, skips):
    """95 in 100 are promised; under 92 in 100 of 400 would be chance once in a thousand."""
    beats = beats_of(beat)
    true = math.sqrt(clock**2 + 2 * delay**2)
    spreads, drifts, found = [], [], []
    for seed in range(TAPPERS):
        taps = go_on(beats, 17, chance_of(seed), clock, delay, drift, skips=skips)
        heard = hear_pulse(beats, taps).going_on
        assert heard.skipped == len(skips)
        spreads.append(heard.spread.low <= true <= heard.spread.high)
        drifts.append(heard.drift.low <= drift <= heard.drift.high)
        found.append(heard.drift.value)
    assert fmean(spreads) >= 0.92
    assert fmean(drifts) >= 0.92
    assert fmean(found) == pytest.approx(drift, abs=4 * stdev(found) / math.sqrt(TAPPERS))


@pytest.mark.parametrize(("along", "alone"), [(0.03, 0.12), (0.1, 0.03)])
def test_tapping_along_and_going_on_are_told_apart(along, alone):
    beats = beats_of(700)
    told = []
    for seed in range(TAPPERS):
        chance = chance_of(seed)
        taps = tap_along(beats, along, chance) + go_on(beats, 16, chance, clock=alone, delay=0)
        told.append(hear_pulse(beats, taps))
    held = [
        (
            each.synchronising.spread.low <= along <= each.synchronising.spread.high,
            each.going_on.spread.low <= alone <= each.going_on.spread.high,
        )
        for each in told
    ]
    assert all(fmean(each) >= 0.92 for each in zip(*held, strict=True))


def test_a_pupil_who_joins_in_late_missed_no_beats_before():
    beats = beats_of(600)
    taps = [at for number, at in enumerate(beats) if number in (3, 4, 6, 7)]
    heard = hear_pulse(beats, taps).synchronising
    assert (heard.taps, heard.missed, heard.extra, heard.spread) == (4, 1, 0, None)


def test_a_bouncing_key_is_no_beat():
    beats = beats_of(600)
    taps = go_on(beats, 12, chance_of(5))
    bounced = sorted([*taps, taps[3] + 70, taps[8] + 90])
    assert hear_pulse(beats, bounced).going_on.extra == 2
    assert hear_pulse(beats, bounced).going_on.spread == hear_pulse(beats, taps).going_on.spread


def test_an_own_tempo_is_no_unevenness():
    beats = beats_of(600)
    heard = hear_pulse(beats, go_on(beats, 16, chance_of(8), tempo=0.8)).going_on
    assert heard.tempo.low < 0.8 < heard.tempo.high
    assert heard.spread.value < 0.08


@pytest.mark.parametrize("taps", [0, 1, 5])
def test_of_a_few_taps_nothing_is_told(taps):
    beats = beats_of(600)
    heard = hear_pulse(beats, go_on(beats, taps, chance_of(1))).going_on
    assert heard.spread is heard.drift is heard.tempo is None
