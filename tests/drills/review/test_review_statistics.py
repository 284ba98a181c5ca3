import random
from statistics import median

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from drills.review.statistics import (
    kendall_p,
    median_difference,
    median_of,
    share_difference,
    share_of,
    significant,
    trend_of,
)

times = st.floats(0.3, 30.0)


@given(st.lists(times, min_size=1, max_size=60))
def test_a_median_and_its_interval_agree_with_the_quantile_test_of_scipy(values):
    found = median_of(values)
    interval = stats.quantile_test(values, q=0, p=0.5).confidence_interval(0.95)
    assert found.value == pytest.approx(np.median(values))
    if found.low is None:
        assert np.isnan(interval.low) or np.isnan(interval.high)
    else:
        assert (found.low, found.high) == (interval.low, interval.high)


def test_five_answers_carry_no_interval_and_six_do():
    assert median_of([1.0, 2.0, 3.0, 4.0, 5.0]).low is None
    assert median_of([1.0, 2.0, 3.0, 4.0, 5.0, 6.0]).low == 1.0


@given(st.integers(1, 60).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_an_accuracy_agrees_with_the_wilson_interval_of_scipy_and_statsmodels(counts):
    right, answers = counts
    found = share_of(right, answers)
    interval = stats.binomtest(right, answers).proportion_ci(0.95, method="wilson")
    assert (found.low, found.high) == pytest.approx((interval.low, interval.high), abs=1e-12)
    assert (found.low, found.high) == pytest.approx(
        proportion_confint(right, answers, method="wilson"), abs=1e-12
    )


@given(st.integers(0, 20), st.integers(0, 30))
def test_a_fall_in_accuracy_agrees_with_newcombes_interval_in_statsmodels(before, after):
    found = share_difference(share_of(before, 20), share_of(after, 30))
    interval = confint_proportions_2indep(after, 30, before, 20, method="newcomb")
    assert (found.low, found.high) == pytest.approx(interval, abs=1e-9)


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(0, 90), times), min_size=3, max_size=24))
def test_a_trend_agrees_with_theil_sen_and_kendall_in_scipy(points):
    x, y = (list(column) for column in zip(*points, strict=True))
    found = trend_of(x, y)
    if found is None:
        assert len(set(x)) < 3
        return
    slope = stats.theilslopes(y, x, 0.95)
    assert found.slope == pytest.approx(slope.slope)
    if len(set(x)) == len(x) == len(set(y)):
        assert (found.low, found.high) == pytest.approx((slope.low_slope, slope.high_slope))


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=24).filter(
        lambda points: all(len(set(column)) > 1 for column in zip(*points, strict=True))
    )
)
def test_kendalls_p_agrees_with_scipy_with_and_without_ties(points):
    x, y = (list(column) for column in zip(*points, strict=True))
    assert kendall_p(x, y) == pytest.approx(stats.kendalltau(x, y).pvalue, abs=1e-9)


@settings(deadline=None)
@given(st.permutations(range(15)))
def test_kendalls_p_is_exact_for_orders_without_ties(order):
    expected = stats.kendalltau(range(15), order, method="exact").pvalue
    assert kendall_p(range(15), order) == pytest.approx(expected)


def test_values_that_are_all_the_same_have_no_trend():
    assert kendall_p([1, 2, 3, 4], [2.0, 2.0, 2.0, 2.0]) == 1.0


@given(st.lists(st.floats(0.0001, 1.0), min_size=1, max_size=30))
def test_the_trends_told_agree_with_the_false_discovery_rule_of_scipy(p_values):
    adjusted = stats.false_discovery_control(p_values)
    for told, p in zip(significant(p_values), adjusted, strict=True):
        if abs(p - 0.05) > 1e-9:
            assert told == (p <= 0.05)


def _skewed(generator, count, centre=1.4):
    """Draw response times whose true median is `centre`: shifted lognormal."""
    return [0.3 + (centre - 0.3) * generator.lognormvariate(0, 0.6) for _ in range(count)]


@pytest.mark.parametrize("count", [6, 9, 15, 30, 60])
def test_the_interval_of_a_median_holds_the_true_one_nineteen_times_in_twenty(count):
    generator = random.Random(count)
    runs = [median_of(_skewed(generator, count)) for _ in range(2000)]
    share = sum(run.low <= 1.4 <= run.high for run in runs) / len(runs)
    assert share >= 0.95 - 3 * (0.95 * 0.05 / len(runs)) ** 0.5


@pytest.mark.parametrize(("keys", "notes"), [(7, 7), (10, 20), (40, 60)])
def test_the_interval_of_reading_time_holds_the_true_one_nineteen_times_in_twenty(keys, notes):
    generator = random.Random(keys * notes)
    held = 0
    for _ in range(2000):
        found = median_difference(_skewed(generator, keys, 0.8), _skewed(generator, notes, 2.0))
        held += found.low <= 1.2 <= found.high
    assert held / 2000 >= 0.95 - 3 * (0.95 * 0.05 / 2000) ** 0.5


@pytest.mark.parametrize("probability", [0.7, 0.9])
@pytest.mark.parametrize("count", [8, 20, 60])
def test_the_interval_of_an_accuracy_holds_the_true_one_nearly_always(count, probability):
    """Wilson's coverage is 95% on average over p, not at each (Brown, Cai, DasGupta 2001)."""
    covered = 0.0
    for right in range(count + 1):
        found = share_of(right, count)
        if found.low <= probability <= found.high:
            covered += stats.binom.pmf(right, count, probability)
    assert covered >= 0.92


def test_pupils_who_do_not_change_are_hardly_ever_told_a_trend():
    generator = random.Random(7)
    told = 0
    for _ in range(400):
        p_values = []
        for _ in range(20):
            medians = [median(_skewed(generator, generator.randint(1, 3))) for _ in range(12)]
            trend = trend_of(range(12), medians)
            p_values.append(trend.p)
        told += any(significant(p_values))
    assert told / 400 <= 0.05 + 3 * (0.05 * 0.95 / 400) ** 0.5
