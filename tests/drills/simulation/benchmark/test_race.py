"""The race: courses, their statistics, and the table."""

from random import Random
from statistics import fmean

import numpy as np
import pytest
from scipy import stats

from drills.cards.card import default_cards
from drills.commands import main
from drills.learning.response import Standing, State
from drills.simulation.benchmark.contestants import CONTESTANTS, ORACLE, OURS
from drills.simulation.benchmark.course import (
    EQUAL_MINUTES,
    TO_SECURED,
    Course,
    Plan,
    run,
    share_in_runs,
)
from drills.simulation.benchmark.practice import BORN, Claims
from drills.simulation.benchmark.race import Setting, contestants_named, kinds_without, race
from drills.simulation.benchmark.rivals import RoundRobin
from drills.simulation.benchmark.tally import (
    cards_needed,
    difference,
    estimated,
    false_share,
    geometric_mean,
    ratio,
    unnamed_share,
)
from drills.simulation.pupils import KINDS, simulated_pupil

CARDS = default_cards()
SHORT = Plan(minutes=3, days=3)


def course(cards=None):
    return Course(cards, 1, 10, 1.0, 0.8, 0.0, (), (), (0.9, 0.8, 0.7))


def taught(kind, seed, teacher, plan):
    pupil = simulated_pupil(kind, CARDS, BORN, seed)
    return run(teacher(CARDS, pupil, seed, plan), pupil, CARDS, plan, seed)


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


def test_differences_are_of_pairs():
    theirs = [Random(3).uniform(0, 1) for _ in range(50)]
    found = difference([value + 0.1 for value in theirs], theirs)
    assert (found.low, found.value, found.high) == pytest.approx((0.1, 0.1, 0.1))


def test_the_geometric_mean_agrees_with_scipy():
    values = [0.7, 0.95, 1.3, 1.02]
    assert geometric_mean(values) == pytest.approx(stats.gmean(values))


def test_a_course_that_never_got_there_counts_for_the_cap():
    assert cards_needed([course(120), course(None)], TO_SECURED.cap) == [120, 1600]


def test_false_and_unnamed_shares_are_counted_over_cards():
    claims = [Claims(2, 1, 4, 3), Claims(10, 1, 10, 1), Claims(10, 0, 10, 0)]
    assert false_share(claims) == pytest.approx(2 / 22)
    assert unnamed_share(claims) == pytest.approx(4 / 24)
    assert false_share([]) is None
    assert unnamed_share([]) is None


def test_wrong_answers_in_runs_of_three_or_more_are_counted():
    right, wrong = True, False
    assert share_in_runs([wrong] * 4 + [right] * 4) == 0.5
    assert share_in_runs([wrong, wrong, right] * 3) == 0
    assert share_in_runs([]) == 0


@pytest.mark.parametrize("kind", KINDS)
def test_a_greedy_oracle_needs_no_more_cards_than_chance(kind):
    needed = {
        name: sum(
            cards_needed(
                (taught(kind, seed, CONTESTANTS[name], TO_SECURED) for seed in range(6)),
                TO_SECURED.cap,
            )
        )
        for name in (ORACLE, "random")
    }
    assert needed[ORACLE] < needed["random"]


def test_the_same_seed_gives_the_same_course():
    courses = [taught("confusion", 5, CONTESTANTS[OURS], SHORT) for _ in range(2)]
    assert courses[0] == courses[1]


def test_a_day_has_as_many_cards_or_minutes_as_the_plan_says():
    cards = taught("stability", 1, CONTESTANTS["round robin"], Plan(minutes=60, days=2, cards=7))
    assert cards.asked == 14
    minutes = taught("stability", 1, CONTESTANTS["round robin"], Plan(minutes=2, days=3))
    assert 6 <= minutes.spent <= 6 + 3 * 0.6


def test_a_course_ends_with_the_day_on_which_nine_cards_in_ten_are_secured():
    found = taught("mastery", 2, CONTESTANTS["round robin"], TO_SECURED)
    assert found.cards is not None
    assert (found.day - 1) * 40 < found.cards <= found.day * 40 == found.asked


@pytest.mark.parametrize("kind", KINDS)
def test_what_equal_minutes_leave_falls_with_the_weeks(kind):
    kept = taught(kind, 1, CONTESTANTS["round robin"], SHORT).retained
    assert 0 <= kept[2] <= kept[1] <= kept[0] <= 1


class CallsAllSecured(RoundRobin):
    """A chooser of the three methods that a course asks for, which claims too much."""

    def standing(self, card, now):
        return Standing(1.0, None, None, State.INK, "")


def test_any_chooser_can_be_raced_and_its_claims_are_held_against_the_truth():
    def boaster(cards, pupil, seed, plan):
        return CallsAllSecured(cards, seed)

    setting = Setting(pupils=3, plan=SHORT)
    for found in race(["half-life"], {"boaster": boaster}, setting)["half-life"]["boaster"]:
        assert [claim.called for claim in found.claims] == [len(CARDS)] * 3
        assert found.claims[0].false > 0
        after_four, after_eight = found.claims_away
        assert after_four.false <= after_eight.false
        assert all(claim.false == len(CARDS) - claim.true for claim in found.claims_away)


def test_our_planner_calls_secured_what_is_and_misses_little():
    setting = Setting(pupils=4, first_seed=500, plan=EQUAL_MINUTES)
    courses = race(["mastery"], contestants_named([OURS]), setting)["mastery"][OURS]
    assert false_share(claim for found in courses for claim in found.claims) <= 0.05
    assert unnamed_share(claim for found in courses for claim in found.claims[-1:]) <= 0.1


def test_kinds_can_be_left_out():
    assert set(KINDS) - set(kinds_without(["mastery", "disuse"])) == {"mastery", "disuse"}


def test_the_race_prints_a_row_for_every_kind_and_chooser_and_draws_a_picture(capsys, tmp_path):
    pytest.importorskip("matplotlib")
    picture = tmp_path / "race.png"
    arguments = ["--pupils", "2", "--kinds", "mastery", "disuse", "--days", "3", "--minutes", "2"]
    arguments += ["--leave-out", "disuse", "--picture", str(picture)]
    arguments += ["--choosers", OURS, "random", ORACLE]
    assert main(["benchmark", *arguments]) == 0
    printed = capsys.readouterr().out
    for name in (OURS, "random", ORACLE):
        assert printed.count(f"| mastery | {name} |") == 2
    assert "disuse" not in printed
    assert "over the best rival's (random)" in printed
    assert "over the greedy oracle's" in printed
    assert "fluent after 8 weeks, less the best rival's (random)" in printed
    assert picture.read_bytes().startswith(b"\x89PNG")
