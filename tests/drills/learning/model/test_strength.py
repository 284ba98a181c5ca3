"""A belief over how well a note is known: how answers, practice and absence move it."""

from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.learning.model.strength import LEVELS, Strengths, logistic
from drills.learning.model.ways import weigh
from drills.learning.parameters import USUAL

STRENGTHS = Strengths(USUAL)
BELIEFS = st.lists(st.floats(0.001, 1), min_size=len(LEVELS), max_size=len(LEVELS)).map(
    lambda shares: [share / sum(shares) for share in shares]
)


def mean_level(belief):
    return sum(level * share for level, share in zip(LEVELS, belief, strict=True))


def sure_of(level):
    """A belief that the level, which is one of the row, is the note's."""
    return [float(each == level) for each in LEVELS]


@given(BELIEFS, st.sampled_from(USUAL.practice), st.integers(0, 200))
def test_practice_only_raises_a_belief(belief, power, answers):
    practised = STRENGTHS.practise(belief, power, 0.0, answers)
    assert sum(practised) == pytest.approx(1)
    assert mean_level(practised) >= mean_level(belief) - 1e-9


def test_practice_follows_the_power_law():
    """Newell and Rosenbloom 1981: errors fall as a power of practice, here their odds."""
    belief = sure_of(-1.0)
    for answers in range(4, 12):
        belief = STRENGTHS.practise(belief, 1.0, 0.0, answers)
    assert mean_level(belief) == pytest.approx(-1 + log(13 / 5), abs=1e-3)


def test_practice_without_absence_raises_a_note_only_so_far():
    belief = sure_of(4.0)
    for _ in range(500):
        belief = STRENGTHS.practise(belief, 2.0, 0.0, 1)
    assert mean_level(belief) == pytest.approx(USUAL.practised_level)


def test_who_learns_at_once_knows_a_note_by_the_transition_of_knowledge_tracing():
    """Corbett and Anderson 1995: P(known) + (1 - P(known)) T after every answer."""
    unknown = [
        share if level < 0 else 0.0 for level, share in zip(LEVELS, STRENGTHS.unknown, strict=True)
    ]
    unknown = [share / sum(unknown) for share in unknown]
    learnt = STRENGTHS.practise(unknown, 0.0, 0.2, 0)
    expected = [0.8 * u + 0.2 * k for u, k in zip(unknown, STRENGTHS.known, strict=True)]
    assert learnt == pytest.approx(expected)


@pytest.mark.parametrize(("days", "fsrs"), [(7, 0.81), (28, 0.67), (56, 0.61)])
def test_absence_costs_at_least_what_the_open_scheduler_says(days, fsrs):
    """The default curve of the open `fsrs` package after one good answer: 0.95 a day later."""
    after_a_day = log(0.95 / 0.05)
    kept = logistic(after_a_day - USUAL.forgetting * log(days))
    assert fsrs - 0.1 < kept < fsrs + 0.02


def test_a_rest_loses_a_note_by_a_lapse_alone():
    belief = sure_of(5.0)
    rested = STRENGTHS.rest(belief)
    assert rested[LEVELS.index(5.0)] == pytest.approx(1 - USUAL.lapse, abs=1e-3)


@given(BELIEFS, st.floats(0, 8), st.floats(0, 8))
def test_the_longer_the_absence_the_less_sure_is_a_note_secured(belief, one, other):
    soon, late = sorted((one, other))
    assert STRENGTHS.secured(belief, late) <= STRENGTHS.secured(belief, soon) + 1e-12


def test_a_note_is_secured_from_the_level_where_nine_in_ten_are_fluent():
    share = (1 - USUAL.inattention) * logistic(STRENGTHS.secured_level)
    assert share == pytest.approx(USUAL.secured_share)
    assert STRENGTHS.secured(sure_of(8.0)) == 1
    assert STRENGTHS.secured(sure_of(-4.0)) == 0


def test_the_ways_of_learning_are_weighed_by_bayes():
    assert weigh([0.5, 0.5], [0.9, 0.3], 0.0) == pytest.approx([0.75, 0.25])
    assert weigh([1.0, 0.0], [1.0, 1.0], 0.1) == pytest.approx([0.95, 0.05])
