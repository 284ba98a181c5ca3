"""The hidden Markov chain over ways of reading a card."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from drills.learning.model import belief as beliefs
from drills.learning.model.belief import KNOWN, LEVELS, SLIPS, SPLIT

shares = st.floats(0, 1)
distributions = st.lists(st.floats(0.001, 1), min_size=len(LEVELS), max_size=len(LEVELS)).map(
    lambda weights: [weight / sum(weights) for weight in weights]
)


@given(shares)
def test_a_prior_is_a_distribution_with_the_probability_asked_for(known):
    belief = beliefs.prior(known)
    assert sum(belief) == pytest.approx(1)
    assert beliefs.known(belief) == pytest.approx(known)


@given(distributions, shares)
def test_practice_and_rest_keep_a_distribution_and_move_it_the_right_way(belief, share):
    practised = beliefs.practised(belief, share, SLIPS)
    rested = beliefs.rested(belief, share)
    for moved in (practised, rested):
        assert sum(moved) == pytest.approx(1)
        assert min(moved) >= 0
    assert beliefs.known(practised) >= beliefs.known(belief) - 1e-12
    assert beliefs.known(rested) == pytest.approx(share * beliefs.known(belief))


@given(distributions, st.floats(0.1, 10))
def test_tilting_multiplies_the_odds_of_knowing(belief, odds):
    before = beliefs.known(belief)
    after = beliefs.known(beliefs.tilted(belief, odds))
    assert after / (1 - after) == pytest.approx(odds * before / (1 - before))


@given(st.integers(0, 30), st.integers(0, 30))
def test_weighing_by_right_and_wrong_answers_is_the_binomial_posterior(right, wrong):
    belief = beliefs.prior(0.5)
    for likely, times in ((LEVELS, right), ([1 - level for level in LEVELS], wrong)):
        for _ in range(times):
            belief, _ = beliefs.weighed(belief, list(likely))
    expected = np.array(beliefs.prior(0.5)) * stats.binom(right + wrong, LEVELS).pmf(right)
    assert belief == pytest.approx(list(expected / expected.sum()), abs=1e-12)


def test_the_prior_slips_are_a_distribution_over_the_known_levels():
    assert len(SLIPS) == len(KNOWN) == len(LEVELS) - SPLIT
    assert sum(SLIPS) == pytest.approx(1)
    assert sum(beliefs.AT_FIRST) == pytest.approx(1)
