"""Hesitations: planted ones are found, even playing has none, independent statisticians agree."""

import math
from fractions import Fraction
from itertools import accumulate
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress, theilslopes
from scipy.stats import t as student

from landmarks import hesitation
from landmarks.hesitation import MomentPlayed, find_hesitations
from landmarks.student_t import central_share, student_quantile

VALUES = [Fraction(1, 2), Fraction(1), Fraction(1), Fraction(3, 2), Fraction(2)]


def played(lengths, tempo, beyond=None, unevenness=None, stopped=()):
    """A playing of such lengths (quarters) at a tempo (ms a quarter); `beyond` are ms by moment."""
    uneven = unevenness or [0.0] * len(lengths)
    moments, ms = [MomentPlayed(Fraction(0), 0.0, 0.0, False)], 0.0
    for number, onset in enumerate(accumulate(lengths), 1):
        ms += float(lengths[number - 1]) * tempo * math.exp(uneven[number - 1])
        ms += (beyond or {}).get(number, 0.0)
        moments.append(MomentPlayed(onset, ms, ms, number not in stopped))
    return moments


lengths = st.lists(st.sampled_from(VALUES), min_size=8, max_size=40)
tempi = st.floats(150, 4000)


@given(lengths, tempi)
def test_even_playing_has_no_hesitation_at_any_tempo(lengths, tempo):
    found = find_hesitations(played(lengths, tempo))
    assert found[0] is None
    for each in found[1:]:
        assert each.ms == pytest.approx(0, abs=1e-6 * tempo)
        assert each.low <= 0 <= each.high


@given(
    st.lists(st.sampled_from(VALUES), min_size=16, max_size=40), tempi, st.floats(1, 8), st.data()
)
def test_a_planted_hesitation_is_found_at_its_note_with_its_size(lengths, tempo, share, data):
    number = data.draw(st.integers(1, len(lengths)))
    beyond = share * tempo * float(lengths[number - 1])
    found = find_hesitations(played(lengths, tempo, {number: beyond}))
    assert [place for place, each in enumerate(found) if each and each.is_certain] == [number]
    assert found[number].ms == pytest.approx(beyond, rel=1e-6)


@given(lengths, tempi, st.floats(0.5, 3), st.data())
def test_it_is_the_same_whatever_the_tempo_in_shares_of_a_quarter(lengths, tempo, times, data):
    uneven = data.draw(st.lists(st.floats(-0.2, 0.2), min_size=len(lengths), max_size=len(lengths)))
    one = find_hesitations(played(lengths, tempo, unevenness=uneven))
    other = find_hesitations(played(lengths, tempo * times, unevenness=uneven))
    for mine, its in zip(one[1:], other[1:], strict=True):
        assert its.ms == pytest.approx(times * mine.ms, rel=1e-6, abs=1e-6 * tempo)


@given(lengths, tempi, st.data())
def test_where_the_player_did_not_come_straight_on_nothing_is_told(lengths, tempo, data):
    stopped = data.draw(st.sets(st.integers(1, len(lengths)), max_size=3))
    beyond = dict.fromkeys(stopped, 20 * tempo)
    found = find_hesitations(played(lengths, tempo, beyond, stopped=stopped))
    for number, each in enumerate(found[1:], 1):
        untold = number in stopped or len(lengths) - len(stopped) < hesitation.FEWEST_GAPS
        assert (each is None) == untold
        assert each is None or not each.is_certain


def test_too_few_notes_tell_no_tempo():
    few = [Fraction(1)] * (hesitation.FEWEST_GAPS - 1)
    assert find_hesitations(played(few, 700)) == (None,) * hesitation.FEWEST_GAPS
    assert find_hesitations(()) == ()


def test_a_tempo_that_falls_to_half_is_no_hesitation():
    slower = [math.log(2) * n / 15 for n in range(16)]
    found = find_hesitations(played([Fraction(1)] * 16, 500, unevenness=slower))
    assert not any(each.is_certain for each in found[1:])


def test_a_note_that_comes_after_its_chord_is_later_by_what_is_not_together():
    each = hesitation.Hesitation(100.0, -20.0, 220.0)
    assert each.later(40.0) == each
    assert each.later(250.0) == hesitation.Hesitation(300.0, 180.0, 420.0)


@given(st.integers(0, 10**6))
def test_the_line_through_the_gaps_around_is_that_of_an_independent_statistician(seed):
    """scipy.stats.theilslopes: Theil-Sen slope and intercept; linregress for how sure it is."""
    random = Random(seed)
    gaps = [
        hesitation._Gap(n, 1.0, math.exp(random.gauss(6.5, 0.3)), n + random.random() / 2)
        for n in range(hesitation.NEIGHBOURS + 1)
    ]
    place = random.randrange(len(gaps))
    told = hesitation._foretell(gaps, place, range(len(gaps)))
    around = [gap for number, gap in enumerate(gaps) if number != place]
    xs, ys = [gap.middle for gap in around], [gap.pace for gap in around]
    slope = theilslopes(ys, xs).slope
    rest = sorted(y - slope * x for x, y in zip(xs, ys, strict=True))
    middle = (rest[len(rest) // 2 - 1] + rest[len(rest) // 2]) / 2
    here = gaps[place].middle
    assert told.pace == pytest.approx(middle + slope * here)
    fit = linregress(xs, ys)
    centre = sum(xs) / len(xs)
    # The variance of a new observation beside that of one: 1 + var(fitted value) / var(residual).
    sse = sum((y - fit.intercept - fit.slope * x) ** 2 for x, y in zip(xs, ys, strict=True))
    variance = sse / (len(xs) - 2)
    fitted = variance / len(xs) + (fit.stderr * (here - centre)) ** 2
    assert told.widened**2 == pytest.approx(1 + fitted / variance)


@pytest.mark.parametrize("degrees", [1, 2, 3, 4, 7, 10, 29, 120])
def test_quantiles_of_students_t_are_those_of_an_independent_statistician(degrees):
    """scipy.stats.t."""
    for share in (0.5, 0.9, 0.95, 0.999, 0.99995):
        assert student_quantile(share, degrees) == pytest.approx(
            student.ppf((1 + share) / 2, degrees), rel=1e-8
        )
    for t in (0.0, 0.3, 1.0, 2.7, 12.0):
        assert central_share(t, degrees) == pytest.approx(
            student.cdf(t, degrees) - student.cdf(-t, degrees), abs=1e-12
        )


def test_uneven_playing_shows_a_hesitation_in_at_most_one_line_of_twenty():
    """The confidence that is claimed, over lines of an unevenness of one part in eight."""
    random = Random(20)
    shown = 0
    for _ in range(400):
        lengths = [random.choice(VALUES) for _ in range(20)]
        uneven = [random.gauss(0, 0.125) for _ in lengths]
        found = find_hesitations(played(lengths, 800, unevenness=uneven))
        shown += any(each.is_certain for each in found[1:])
    # 31 of 400 or more would be seen in under 1 of 100 such tests if it were 5% (binomial).
    assert shown <= 30
