"""Each kind of simulated pupil follows the equations of the paper that it names."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from math import log
from random import Random

import numpy as np
import pytest
from scipy import integrate, stats

from drills.cards.card import default_cards
from drills.simulation.pupils import KINDS, simulated_pupil, stability, windows
from drills.simulation.pupils.daily_form import FORMS, DailyFormMind, nearness
from drills.simulation.pupils.disuse import DisuseMind
from drills.simulation.pupils.exemplars import ExemplarsMind, likeness
from drills.simulation.pupils.half_life import Answers, HalfLifeMind
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.instances import SCALE_SECONDS, SHAPE, raced_share
from drills.simulation.pupils.multiscale import WEIGHTS, MultiscaleMind, nested_means
from drills.simulation.pupils.power_law import PowerLawMind, Practice, recall_seconds
from drills.simulation.pupils.short_term import ShortTermMind
from drills.simulation.pupils.stability import GOOD, Trace, reviewed
from drills.simulation.pupils.stability import WEIGHTS as FSRS_WEIGHTS
from drills.simulation.pupils.working_out import COUNTING_SPREAD, Counting, counted_steps

MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
DAY = timedelta(days=1)
CARDS = default_cards()
CARD = CARDS[3]


def even(mind):
    """Return a mind to which all cards are equally easy."""
    mind._ease = dict.fromkeys(CARDS, 1.0)
    return mind


def practised(kind, seed=1, days=6):
    pupil = simulated_pupil(kind, CARDS, MONDAY, seed)
    for day in range(days):
        now = MONDAY + day * DAY
        for card in CARDS * 2:
            now += timedelta(seconds=2 + pupil.answer(card, now).seconds)
    return pupil, now


@pytest.mark.parametrize("kind", KINDS)
def test_the_truth_is_a_probability_and_falls_with_absence(kind):
    pupil, now = practised(kind)
    means = []
    for weeks in (1, 4, 8, 26):
        shares = [pupil.cold_share(card, now, timedelta(weeks=weeks)) for card in CARDS]
        assert all(0 <= share <= 1 for share in shares)
        means.append(sum(shares) / len(shares))
    assert all(later <= sooner + 1e-9 for sooner, later in pairwise(means))


def test_recall_halves_in_the_half_life_that_practice_sets():
    # Settles and Meeder 2016: p = 2^(-lag / h), h = 2^(weights . features). Eight right answers at
    # a weight of 1.7: h = 2^(-3 + 1.7 sqrt(9) - 0.3 sqrt(1)) = 2^1.8 = 3.482 days.
    mind = even(HalfLifeMind(Hand(1.0), Random(1), 1.7))
    answers = Answers(8, 0, MONDAY)
    assert mind.half_life(CARD, answers) == pytest.approx(3.482, abs=1e-3)
    half_life = timedelta(days=mind.half_life(CARD, answers))
    assert mind.recall(CARD, answers, MONDAY + half_life) == pytest.approx(0.5)
    assert mind.recall(CARD, answers, MONDAY + 3 * half_life) == pytest.approx(0.125)


def test_forgetting_and_quickening_are_straight_lines_in_logarithms():
    # Wixted and Carpenter 2007: (1 + b t)^-psi; at b = 5, psi = 0.2 and a day 6^-0.2 = 0.6988.
    mind = even(PowerLawMind(Hand(1.0), Random(1), 0.2))
    once = Practice(1, MONDAY)
    assert mind.retention(CARD, once, MONDAY + DAY) == pytest.approx(0.6988, abs=1e-4)
    lags = np.array([1, 3, 10, 30])
    kept = [mind.retention(CARD, once, MONDAY + int(lag) * DAY) for lag in lags]
    assert stats.linregress(np.log1p(5 * lags), np.log(kept)).slope == pytest.approx(-0.2)
    # Newell and Rosenbloom 1981: B N^-c.
    practice = np.array([1, 4, 16, 64])
    times = [recall_seconds(int(n)) for n in practice]
    assert stats.linregress(np.log(practice), np.log(times)).slope == pytest.approx(-0.4)


def test_storage_never_falls_and_grows_most_when_retrieval_is_low():
    # Bjork and Bjork 1992, in words: gains in storage are larger the lower retrieval strength is.
    mind = even(DisuseMind(Hand(1.0), Random(1), 1.0))
    mind.learn(CARD, MONDAY, True)
    first = mind._memories[CARD]
    soon = mind._practised(CARD, first, MONDAY + timedelta(minutes=1), True)
    late = mind._practised(CARD, first, MONDAY + 3 * DAY, True)
    assert first.storage < soon.storage < late.storage
    assert late.retrieval_at(MONDAY + 10 * DAY) > soon.retrieval_at(MONDAY + 10 * DAY)


def test_windows_add_up_what_was_right_in_them():
    # Lindsey et al. 2014: sum over windows of theta log(1 + c) - phi log(1 + n), by numpy.
    mind = even(windows.WindowsMind(Hand(1.0), Random(1), 0.0))
    history = ((MONDAY, True), (MONDAY + 3 * DAY, False), (MONDAY + 9.5 * DAY, True))
    when = MONDAY + 10 * DAY
    lags, right = np.array([10, 7, 0.5]), np.array([True, False, True])
    expected = windows.NEW
    for length, theta, phi in windows.WINDOWS:
        within = lags < length
        expected += theta * np.log1p((within & right).sum()) - phi * np.log1p(within.sum())
    assert mind.logit(CARD, history, when) == pytest.approx(expected)


def test_stores_are_weighed_with_all_faster_ones_and_spacing_lasts():
    # Mozer et al. 2009: s_i is the gamma-weighted mean of x_1 to x_i.
    held = tuple(Random(1).random() for _ in WEIGHTS)
    for scale, mean in enumerate(nested_means(held), start=1):
        assert mean == pytest.approx(np.average(held[:scale], weights=WEIGHTS[:scale]))
    # The spacing effect that it was made for: after 60 days a week apart beats a minute apart.
    recalled = {}
    for gap in (timedelta(minutes=1), timedelta(days=7)):
        mind = even(MultiscaleMind(Hand(1.0), Random(1), 0.05))
        mind.learn(CARD, MONDAY, True)
        mind.learn(CARD, MONDAY + gap, True)
        recalled[gap] = mind._recall(mind._memories[CARD], MONDAY + gap + 60 * DAY)
    assert recalled[timedelta(days=7)] > recalled[timedelta(minutes=1)]


def test_stability_follows_the_open_fsrs_package():
    # Default curve after one good answer (fsrs 6.3.2): 0.95, 0.81, 0.67, 0.61 at 1, 7, 28, 56 days;
    # stability after good answers on days 0, 1, 2 and 4, and after a wrong one on day 9.
    trace = Trace(FSRS_WEIGHTS[GOOD - 1], stability.first_difficulty(GOOD), MONDAY)
    curve = [trace.retrievability(MONDAY + days * DAY) for days in (1, 7, 28, 56)]
    assert curve == pytest.approx([0.95, 0.81, 0.67, 0.61], abs=0.006)
    found = []
    for days, grade in ((1, GOOD), (2, GOOD), (4, GOOD), (9, stability.AGAIN)):
        trace = reviewed(trace, grade, MONDAY + days * DAY)
        found.append(trace.stability)
    assert found[:3] == pytest.approx([7.3153, 11.9910, 20.4940], abs=1e-3)


def test_stability_is_the_package_s_where_it_is_installed():
    fsrs = pytest.importorskip("fsrs")
    scheduler = fsrs.Scheduler(enable_fuzzing=False, learning_steps=(), relearning_steps=())
    assert tuple(scheduler.parameters) == pytest.approx(FSRS_WEIGHTS)
    theirs, _ = scheduler.review_card(fsrs.Card(), fsrs.Rating.Good, MONDAY)
    ours = Trace(FSRS_WEIGHTS[GOOD - 1], stability.first_difficulty(GOOD), MONDAY)
    random = Random(2)
    now = MONDAY
    for _ in range(30):
        now += random.choice([timedelta(minutes=2), 1 * DAY, 3 * DAY, 20 * DAY])
        grade = random.choice([stability.AGAIN, GOOD, GOOD])
        theirs, _ = scheduler.review_card(theirs, fsrs.Rating(grade), now)
        ours = reviewed(ours, grade, now)
        assert ours.stability == pytest.approx(theirs.stability)
        assert ours.difficulty == pytest.approx(theirs.difficulty)


def test_the_quickest_instance_races_the_count():
    # Logan 1988: the least of N Weibull times; scipy integrates the race of both distributions.
    number, spare = 6.0, 1.7
    retrieval = stats.weibull_min(SHAPE, scale=SCALE_SECONDS * number ** (-1 / SHAPE))
    count = stats.lognorm(COUNTING_SPREAD, scale=Counting().median_seconds(CARD))

    def won(seconds):
        by_memory = 0.985 * retrieval.pdf(seconds) * count.sf(seconds)
        return by_memory + Counting().right_share(CARD) * count.pdf(seconds) * retrieval.sf(seconds)

    expected, _ = integrate.quad(won, 0, spare)
    assert raced_share(CARD, number, spare) == pytest.approx(expected, abs=2e-3)


def test_counting_takes_as_much_longer_for_every_step():
    # Groen and Parkman 1972 (from memory): about 0.41 s a step in first graders.
    steps = [counted_steps(card) for card in CARDS]
    medians = [Counting().median_seconds(card) for card in CARDS]
    assert len(set(steps)) > 2
    line = stats.linregress(steps, medians)
    assert line.slope == pytest.approx(0.41)
    assert line.rvalue == pytest.approx(1)


def test_a_new_place_is_read_as_its_practised_neighbour():
    # Shepard 1987: likeness falls exponentially with distance.
    assert [likeness(2.0, distance) for distance in (0, 1, -2)] == pytest.approx(
        np.exp([0, -2, -4])
    )
    landmark = next(card for card in CARDS if card.id == "landmark/treble/G4")
    neighbour = next(card for card in CARDS if card.id == "step/treble/A4")
    mind = even(ExemplarsMind(Hand(1.0), Random(1), CARDS, 1.0, 1.0))
    for minute in range(8):
        mind.learn(landmark, MONDAY + timedelta(minutes=minute), True)
    keys = [mind.read(neighbour, MONDAY + timedelta(minutes=9)).key for _ in range(300)]
    assert keys.count(landmark.key) > 150


def test_the_form_of_days_is_normal_and_practice_spreads_by_a_gaussian():
    # numpy's probabilists' Gauss-Hermite rule, normalised to the standard normal.
    nodes, weights = np.polynomial.hermite_e.hermegauss(5)
    assert [node for node, _ in FORMS] == pytest.approx(nodes)
    assert [weight for _, weight in FORMS] == pytest.approx(weights / np.sqrt(2 * np.pi))
    assert nearness(1) / nearness(0) == pytest.approx(stats.norm.pdf(1 / 0.6) / stats.norm.pdf(0))
    mind = even(DailyFormMind(Hand(1.0), Random(1), CARDS, 0.0, 0.6))
    mind.remember(CARD, 9.0, MONDAY)
    logit = mind._logit(CARD, MONDAY)
    expected, _ = integrate.quad(
        lambda form: mind._in_form(logit + 0.6 * form) * stats.norm.pdf(form), -8, 8
    )
    assert mind.fluent_share(CARD, MONDAY) == pytest.approx(expected, abs=2e-3)
    assert logit == pytest.approx(-1.8 + 1.75 * log(10))


def test_what_is_in_the_short_term_store_is_right_and_teaches_nothing():
    # Greeno 1964 (from memory): massed repetitions are ineffective. A store of two cards
    # (Atkinson and Shiffrin 1968): two others that enter push a card out for certain or by chance.
    mind = even(ShortTermMind(Hand(1.0), Random(1), 2, 0.5))
    for minute in range(6):
        mind.learn(CARD, MONDAY + timedelta(minutes=minute), True)
    soon = MONDAY + timedelta(minutes=6)
    assert mind.gain(CARD, soon, soon + DAY) == 0
    keys = [mind.read(CARD, soon).key for _ in range(300)]
    assert keys.count(CARD.key) > 285
    recalled = mind._long_term[CARD].recall(MONDAY + DAY)
    assert recalled == pytest.approx((1 - np.exp(-0.5)) * 2**-0.08)
    mind.read(CARD, MONDAY + DAY)
    mind.learn(CARD, MONDAY + DAY, True)
    assert mind._long_term[CARD].strength == pytest.approx(1.0)
