"""The race between ways of choosing cards, run small."""

import pytest

from drills.benchmark.course import BORN, ORACLE, OURS, Plan
from drills.benchmark.race import Setting, race
from drills.benchmark.table import written
from drills.card import default_cards
from drills.simulate import KINDS, simulated_pupil
from drills.simulate.pupil import Distraction

SMALL = Setting(pupils=2, plan=Plan(minutes=4, sessions=6))


def test_the_same_pupil_answers_the_same_way_twice():
    cards = default_cards()
    for kind in KINDS:
        one, other = (
            simulated_pupil(kind, cards, BORN, 5, Distraction(0.1, 0.1)) for _ in range(2)
        )
        assert [one.answer(card, BORN) for card in cards] == [
            other.answer(card, BORN) for card in cards
        ]


def test_a_race_can_be_run_again_with_the_same_result():
    names = (OURS, "round robin", ORACLE)
    first, second = (race(["mastery"], names, SMALL) for _ in range(2))
    assert first == second


@pytest.mark.parametrize("kind", KINDS)
def test_a_race_ends_in_a_row_for_each_way_of_choosing(kind):
    names = (OURS, "random")
    table = written(race([kind], names, SMALL), SMALL.plan.sessions)
    assert all(f"| {kind} | {name} |" in table for name in names)
