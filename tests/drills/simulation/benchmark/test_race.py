"""The race: courses, their statistics, and the table."""

from random import Random
from statistics import fmean

import numpy as np
import pytest
from scipy import stats

from drills.cards.card import default_cards
from drills.commands import main
from drills.simulation.benchmark.course import BORN, ORACLE, OURS, Course, Plan, chooser, run
from drills.simulation.benchmark.race import Setting, race
from drills.simulation.benchmark.tally import (
    CAP,
    cards_needed,
    estimated,
    false_share,
    missed_share,
    ratio,
)
from drills.simulation.pupils import KINDS, simulated_pupil

CARDS = default_cards()
SHORT = Plan(minutes=3, sessions=3)


def course(cards=None, claims=()):
    return Course(cards, 1.0, 1, (1, None), 10, 1.0, claims, None, 0.5, 0.8)


def test_bootstrap_intervals_of_a_mean_agree_with_scipy():
    values = [Random(1).gauss(100, 20) for _ in range(80)]
    ours = estimated(values, fmean)
    theirs = stats.bootstrap(
        (np.array(values),), np.mean, method="percentile", n_resamples=4000, rng=2
    ).confidence_interval
    assert ours.value == pytest.approx(fmean(values))
    assert ours.low == pytest.approx(theirs.low, abs=0.8)
    assert ours.high == pytest.approx(theirs.high, abs=0.8)


def test_the_ratio_of_paired_courses_is_sure_when_they_are_in_step():
    theirs = [Random(3).uniform(50, 200) for _ in range(50)]
    found = ratio([0.8 * value for value in theirs], theirs)
    assert (found.low, found.value, found.high) == pytest.approx((0.8, 0.8, 0.8))


def test_a_course_that_never_got_there_counts_for_the_cap():
    assert cards_needed([course(120), course(None)]) == [120, CAP]


def test_false_and_missed_shares_are_counted_over_cards():
    courses = [
        course(claims=((2, 1, 4, 3), (10, 1, 10, 1))),
        course(claims=((10, 0, 10, 0),)),
    ]
    assert false_share(courses) == pytest.approx(2 / 22)
    assert false_share(courses, last=True) == pytest.approx(1 / 20)
    assert missed_share(courses) == pytest.approx(1 / 20)
    assert false_share([course()]) is None


@pytest.mark.parametrize("kind", KINDS)
def test_the_oracle_gets_there_and_needs_fewer_cards_than_chance(kind):
    needed = {}
    for name in (ORACLE, "random"):
        total = 0
        for seed in range(6):
            pupil = simulated_pupil(kind, CARDS, BORN, seed)
            teacher = chooser(name, CARDS, pupil, seed, Plan())
            total += run(teacher, pupil, CARDS, Plan(), seed).cards or CAP
        needed[name] = total
    assert needed[ORACLE] < needed["random"]


def test_the_same_seed_gives_the_same_course():
    def once():
        pupil = simulated_pupil("confusion", CARDS, BORN, 5)
        return run(chooser(OURS, CARDS, pupil, 5, SHORT), pupil, CARDS, SHORT, 5)

    assert once() == once()


def test_our_planner_calls_secured_what_is_and_misses_little():
    courses = race(["mastery"], [OURS], Setting(pupils=6, first_seed=500))["mastery"][OURS]
    assert false_share(courses) <= 0.05
    assert missed_share(courses) <= 0.1


def test_the_race_prints_a_row_for_every_kind_and_chooser_and_draws_a_picture(capsys, tmp_path):
    pytest.importorskip("matplotlib")
    picture = tmp_path / "race.png"
    arguments = ["--pupils", "2", "--kinds", "mastery", "--sessions", "3", "--minutes", "2"]
    arguments += ["--choosers", OURS, "random", ORACLE, "--picture", str(picture)]
    assert main(["benchmark", *arguments]) == 0
    printed = capsys.readouterr().out
    for name in (OURS, "random", ORACLE):
        assert f"| mastery | {name} |" in printed
    assert "over the best rival's (random)" in printed
    assert "over the oracle's" in printed
    assert picture.read_bytes().startswith(b"\x89PNG")
