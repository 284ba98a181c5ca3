"""A pupil's own key-finding time, and how surely a time is fluent."""

from math import inf, log, nan

import pytest
from scipy import stats

from drills.learning.fluency import Fluency
from drills.learning.model.hand import Hand
from drills.learning.parameters import USUAL


def hand(*key_times, fluency=None):
    made = Hand(fluency or Fluency(), USUAL)
    for seconds in key_times:
        made.saw_key(seconds)
    return made


def test_key_finding_is_the_posterior_of_a_normal_belief_about_its_logarithm():
    """The normal posterior mean with known variance, worked out from its formula."""
    times, prior, noise = (0.6, 0.7, 0.8), 1 / USUAL.key_spread**2, 1 / USUAL.key_noise**2
    centre = (prior * log(USUAL.key_seconds) + 3 * noise * log(0.7)) / (prior + 3 * noise)
    assert log(hand(*times).key_seconds) == pytest.approx(centre)


def test_fluent_time_follows_the_keys_that_are_shown_up_to_the_teachers_cap():
    assert hand(*[0.6] * 12).fluent_seconds == pytest.approx(2.5 * 0.6, rel=0.05)
    assert hand(*[3.0] * 12, fluency=Fluency(cap=2.0)).fluent_seconds == 2.0


def test_without_a_shown_key_the_quickest_right_answers_stand_in():
    quick, slow = hand(), hand()
    for _ in range(30):
        quick.saw_right(0.8)
        slow.saw_right(3.0)
    assert quick.fluent_seconds < slow.fluent_seconds
    measured = hand(1.0)
    before = measured.key_seconds
    measured.saw_right(0.2)
    assert measured.key_seconds == before


def test_how_surely_a_time_is_fluent_is_a_normal_probability():
    own = hand(*[1.0] * 20)
    distance = log(own.fluent_seconds / 1.7)
    assert own.fluent_chance(1.7) == pytest.approx(stats.norm(scale=own.spread).cdf(distance))
    assert own.fluent_chance(own.fluent_seconds) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("seconds", "chance"), [(0.0, 1.0), (-1.0, 1.0), (inf, 0.0), (nan, 0.0), (1e300, 0.0)]
)
def test_a_time_that_cannot_be_does_no_harm(seconds, chance):
    own = hand(1.0)
    before = own.key_seconds
    assert own.fluent_chance(seconds) == pytest.approx(chance)
    if seconds != 1e300:
        own.saw_key(seconds)
        own.saw_right(seconds)
        assert own.key_seconds == before
