"""Simulated pupils answer like pupils, learn, forget, and keep to their published models."""

from collections import Counter
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from math import exp, log
from random import Random
from statistics import fmean, median

import pytest
from scipy import stats

from drills.cards.card import Kind, default_cards, key_cards, parse_card
from drills.simulation.pupils import KINDS, simulated_pupil
from drills.simulation.pupils.activation import ActivationMind
from drills.simulation.pupils.confusion import ConfusionMind
from drills.simulation.pupils.fluctuation import _first_passage, _passed
from drills.simulation.pupils.habits import CarelessMind, GuessingMind
from drills.simulation.pupils.hand import Hand, hand_of_age, lognormal_within
from drills.simulation.pupils.mastery import MasteryMind
from drills.simulation.pupils.misreadings import Misreading, misread_as, misreadings
from drills.simulation.pupils.pupil import Distraction
from landmarks.answer import Verdict, judge
from landmarks.pitch import Pitch
from landmarks.sets import DEFAULT_SET, built_in_sets

MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
DAY = timedelta(days=1)
CARDS = default_cards()
CALM = Distraction(0, 0)


def drilled(kind, seed, days, calm=CALM):
    pupil = simulated_pupil(kind, CARDS, MONDAY, seed, calm)
    for day in range(days):
        now = MONDAY + day * DAY
        for card in CARDS * 3:
            now += timedelta(seconds=2 + pupil.answer(card, now).seconds)
    return pupil, MONDAY + days * DAY


@pytest.mark.parametrize("kind", KINDS)
def test_practice_makes_pupils_better(kind):
    fresh = [simulated_pupil(kind, CARDS, MONDAY, seed, CALM) for seed in range(6)]
    before = fmean(pupil.cold_share(card, MONDAY) for pupil in fresh for card in CARDS)
    after = fmean(
        pupil.cold_share(card, now)
        for pupil, now in (drilled(kind, seed, 6) for seed in range(6))
        for card in CARDS
    )
    assert after > before + 0.2


@pytest.mark.parametrize("kind", KINDS)
def test_what_the_oracle_sees_is_what_happens(kind):
    """The fluent share that the mind reports is the share of answers that come out fluent."""
    pupil, _ = drilled(kind, 3, 4)
    card, limit = CARDS[4], pupil.mind.hand.fluent_seconds
    expected, fluent = 0.0, 0.0
    for later in range(1, 401):
        now = MONDAY + (4 + 0.01 * later) * DAY
        mind = deepcopy(pupil.mind)
        mind._random = Random(later)
        expected += mind.fluent_share(card, now) / 400
        for _ in range(3):
            reading = mind.read(card, now)
            fluent += (reading.key == card.key and reading.seconds <= limit) / 1200
    assert fluent == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize("kind", KINDS)
def test_gain_is_never_a_loss_and_shrinks_as_a_card_is_learnt(kind):
    fresh = simulated_pupil(kind, CARDS, MONDAY, 2, CALM)
    pupil, now = drilled(kind, 2, 10)
    assert min(pupil.gain(card, now) for card in CARDS) >= 0
    assert fmean(pupil.cold_share(card, now) for card in CARDS) > fmean(
        fresh.cold_share(card, MONDAY) for card in CARDS
    )


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "mastery"])
def test_gain_is_what_one_right_answer_raises_the_share_by(kind):
    """Mastery is left out: there an answer teaches by chance, and the gain is an expectation."""
    pupil, now = drilled(kind, 5, 2)
    now += timedelta(hours=1)
    for card in CARDS[::5]:
        mind = deepcopy(pupil.mind)
        mind.read(card, now)
        expected = mind.gain(card, now, now + DAY)
        before = mind.fluent_share(card, now + DAY)
        mind.learn(card, now, True)
        assert mind.fluent_share(card, now + DAY) - before == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_seed_is_the_same_child(kind):
    answers = []
    for _ in range(2):
        pupil = simulated_pupil(kind, CARDS, MONDAY, 7)
        answers.append([pupil.answer(card, MONDAY) for card in CARDS])
    assert answers[0] == answers[1]


def test_children_of_one_kind_differ():
    keys = {simulated_pupil("mastery", CARDS, MONDAY, seed).mind.hand for seed in range(10)}
    assert len(keys) > 5


def test_activation_follows_its_paper():
    # Pavlik and Anderson 2005 (from memory): the second of two meetings 60 s apart decays by
    # 0.217 * 60 ** -0.177 + 0.177.
    mind = ActivationMind(Hand(1.0), Random(1), MONDAY, 0.177, 0.5)
    card = CARDS[0]
    mind._ease[card] = 1.0
    mind.learn(card, MONDAY, True)
    mind.learn(card, MONDAY + timedelta(seconds=60), True)
    second = 0.217 * 60**-0.177 + 0.177
    expected = log(120**-0.177 + 60**-second)
    at = mind._time(MONDAY + timedelta(seconds=120))
    assert mind._activation(card, at) == pytest.approx(expected, abs=1e-4)


def test_time_between_sessions_counts_little():
    mind = ActivationMind(Hand(1.0), Random(1), MONDAY, 0.177, 0.5)
    mind.learn(CARDS[0], MONDAY, True)
    assert mind._time(MONDAY + DAY) == pytest.approx(0.025 * 86400)
    assert mind._time(MONDAY + timedelta(seconds=60)) == pytest.approx(60)


def test_mastery_slips_guesses_and_learns_at_its_rates():
    mind = MasteryMind(Hand(1.0), Random(4), 0.1, 0.2, 0.3)
    known, unknown = CARDS[:2]
    mind.remember(known)
    for card, share in ((known, 0.9), (unknown, 0.2)):
        right = fmean(mind.read(card, MONDAY).key == card.key for _ in range(3000))
        assert right == pytest.approx(share, abs=0.03)
    learnt = 0
    for seed in range(1500):
        mind = MasteryMind(Hand(1.0), Random(seed), 0.1, 0.2, 0.3)
        mind._ease[unknown] = 1.0
        mind.learn(unknown, MONDAY, False)
        learnt += unknown in mind._known
    assert learnt / 1500 == pytest.approx(0.3, abs=0.04)


def test_confusions_are_neighbours_twins_and_octaves_and_fade_with_learning():
    mind = ConfusionMind(Hand(1.0), Random(5), 1.0, CARDS)
    card = CARDS[3]
    verdicts = Counter(
        judge(card.target, card.clef, mind.read(card, MONDAY).key, card.anchor).verdict
        for _ in range(800)
    )
    assert {Verdict.STEP, Verdict.CLEF, Verdict.OCTAVE, Verdict.SKIP} <= set(verdicts)
    for minutes in range(20):
        mind.learn(card, MONDAY + timedelta(minutes=minutes), True)
    later = MONDAY + timedelta(minutes=21)
    assert fmean(mind.read(card, later).key == card.key for _ in range(500)) > 0.9


def test_learning_one_place_spills_over_to_its_neighbour():
    card = next(card for card in CARDS if card.id == "landmark/treble/G4")
    neighbour = next(card for card in CARDS if card.id == "step/treble/A4")
    mind = ConfusionMind(Hand(1.0), Random(5), 1.0, CARDS)
    before = mind.fluent_share(neighbour, MONDAY)
    for minutes in range(10):
        mind.learn(card, MONDAY + timedelta(minutes=minutes), True)
    assert mind.fluent_share(neighbour, MONDAY + timedelta(minutes=10)) < before


def test_first_passage_times_are_inverse_gaussian():
    # scipy's invgauss(mu, scale) has mean mu * scale and shape parameter scale.
    drift, boundary = 3.0, 2.4
    reference = stats.invgauss(boundary / drift / boundary**2, scale=boundary**2)
    for seconds in (0.3, 0.8, 2.0):
        assert _passed(seconds, drift) == pytest.approx(reference.cdf(seconds), abs=1e-9)
    random = Random(6)
    sample = [_first_passage(drift, random) for _ in range(2000)]
    assert stats.kstest(sample, reference.cdf).pvalue > 0.001


def test_times_within_a_limit_agree_with_scipy():
    assert lognormal_within(1.2, 0.5, 0.4) == pytest.approx(stats.lognorm(0.4, scale=0.5).cdf(1.2))
    assert lognormal_within(-1, 0.5, 0.4) == 0


def test_misreadings_are_shares_of_keys_that_are_wrong():
    for card in CARDS:
        keys = dict(misreadings(card))
        assert card.key not in keys
        assert sum(keys.values()) == pytest.approx(1)


def test_older_children_find_keys_sooner():
    young, old = (
        median(hand_of_age(age, Random(n)).key_seconds for n in range(99)) for age in (6, 11)
    )
    assert young == pytest.approx(1.3, rel=0.1)
    assert old == pytest.approx(1.3 * exp(-0.5), rel=0.1)


def test_a_distracted_pupil_wanders_off_and_brushes_keys_at_the_rates_asked_for():
    pupil = simulated_pupil("mastery", CARDS, MONDAY, 1, Distraction(0.1, 0.1))
    key = key_cards(built_in_sets()[DEFAULT_SET])[0]
    readings = [pupil.answer(key, MONDAY) for _ in range(3000)]
    assert key.kind is Kind.KEY
    assert fmean(reading.key != key.key for reading in readings) == pytest.approx(0.1, abs=0.02)
    slow = fmean(reading.seconds > 3 * pupil.mind.hand.key_seconds for reading in readings)
    assert slow == pytest.approx(0.1, abs=0.03)


def test_a_careless_pupil_is_right_as_often_as_she_is_careful():
    careful = drilled("stability", 4, 8)[0].mind
    mind = CarelessMind(careful, Random(1), 0.15)
    card, now = CARDS[2], MONDAY + 8 * DAY
    readings = [mind.read(card, now) for _ in range(2000)]
    limit = mind.hand.fluent_seconds
    fluent = fmean(reading.key == card.key and reading.seconds <= limit for reading in readings)
    assert fluent == pytest.approx(mind.fluent_share(card, now), abs=0.05)
    assert mind.fluent_share(card, now) <= 0.85
    assert mind.gain(CARDS[5], now, now + DAY) <= careful.gain(CARDS[5], now, now + DAY)


def test_a_guessing_pupil_never_learns():
    mind = GuessingMind(Hand(1.0), Random(1), 0.3)
    card = CARDS[0]
    before = mind.fluent_share(card, MONDAY)
    for minutes in range(200):
        mind.learn(card, MONDAY + timedelta(minutes=minutes), True)
    right = fmean(mind.read(card, MONDAY).key == card.key for _ in range(3000))
    assert right == pytest.approx(0.3, abs=0.03)
    assert mind.fluent_share(card, MONDAY + DAY) == before <= 0.3


def test_the_kinds_of_misreading_are_told_as_such_by_the_drill_s_own_judge():
    verdicts = {
        Misreading.STEP: Verdict.STEP, Misreading.SKIP: Verdict.SKIP,
        Misreading.OCTAVE: Verdict.OCTAVE, Misreading.CLEF: Verdict.CLEF,
        Misreading.DIRECTION: Verdict.DIRECTION,
    }  # fmt: skip
    for kind in Misreading:
        told = Counter(
            judge(card.target, card.clef, key, card.anchor).verdict
            for card in CARDS
            for key in misread_as(card, kind)
        )
        assert told.most_common(1)[0][0] is verdicts[kind]


def test_misreadings_stay_on_the_piano():
    lowest = parse_card("landmark/bass/A0")
    assert misread_as(lowest, Misreading.STEP) == (Pitch.parse("B0").midi,)
    assert misread_as(lowest, Misreading.DIRECTION) == ()
