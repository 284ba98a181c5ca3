"""The distributions of response times agree with scipy."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from drills.learning.model.times import (
    LOGISTIC,
    Pace,
    logistic_below,
    logistic_density,
    logistic_quantile,
    normal_below,
    normal_density,
)

values = st.floats(-4, 4)
spreads = st.floats(0.05, 2)


@given(values, values, spreads)
def test_the_logistic_and_normal_distributions_agree_with_scipy(value, mean, spread):
    logistic = stats.logistic(mean, spread * LOGISTIC)
    normal = stats.norm(mean, spread)
    assert logistic_density(value, mean, spread) == pytest.approx(logistic.pdf(value), abs=1e-12)
    assert logistic_below(value, mean, spread) == pytest.approx(logistic.cdf(value), abs=1e-12)
    assert logistic.std() == pytest.approx(spread)
    assert normal_density(value, mean, spread) == pytest.approx(normal.pdf(value), abs=1e-12)
    assert normal_below((value - mean) / spread) == pytest.approx(normal.cdf(value), abs=1e-12)


@given(st.floats(0.01, 0.99), spreads)
def test_the_logistic_quantile_agrees_with_scipy(share, spread):
    expected = stats.logistic(0, spread * LOGISTIC).ppf(share)
    assert logistic_quantile(share, spread) == pytest.approx(expected, abs=1e-12)


@given(st.lists(values, min_size=1, max_size=8), values, spreads, spreads)
def test_a_pace_learnt_from_times_is_the_conjugate_posterior(times, mean, prior, scatter):
    pace = Pace(mean, prior**2)
    for time in times:
        pace.seen(time - pace.mean, scatter**2, 1.0)
    precision = prior**-2 + len(times) * scatter**-2
    expected = (mean * prior**-2 + sum(times) * scatter**-2) / precision
    assert pace.mean == pytest.approx(expected)
    assert pace.variance == pytest.approx(1 / precision)


@given(values, spreads, st.floats(0.3, 10))
def test_the_probability_of_a_median_time_agrees_with_scipy(mean, spread, seconds):
    expected = stats.lognorm(spread, scale=exp(mean)).cdf(seconds)
    assert Pace(mean, spread**2).below(log(seconds)) == pytest.approx(expected, abs=1e-9)


def test_a_time_that_is_not_trusted_changes_nothing():
    pace = Pace(0.5, 0.1)
    pace.seen(2.0, 0.1, 0.0)
    assert pace == Pace(0.5, 0.1)
