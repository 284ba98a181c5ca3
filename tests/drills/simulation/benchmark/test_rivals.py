"""The rivals do what their papers say; worked values by hand from the stated formulas."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from math import exp, log

import pytest

from drills.cards.card import default_cards
from drills.learning.response import Response
from drills.simulation.benchmark.rivals import (
    RIVALS,
    Boxes,
    LowestActivation,
    Mastery,
    Priority,
    RoundRobin,
)

MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
CARDS = default_cards()


def answer(card, at, right=True, seconds=1.7):
    return Response(card, at, seconds, right, card.key if right else card.key + 2)


def test_knowledge_tracing_follows_its_equations():
    # By hand: after a right answer from 0.25, with slip 0.05, guess 0.2 and transition 0.2:
    # 0.2375 / (0.2375 + 0.15) = 0.6129, then 0.6129 + 0.3871 * 0.2 = 0.6903.
    tracer = Mastery(CARDS)
    assert tracer.traced(0.25, True) == pytest.approx(0.6903, abs=1e-4)
    # After a wrong one: 0.0125 / (0.0125 + 0.6) = 0.0204, then 0.0204 + 0.9796 * 0.2 = 0.2163.
    assert tracer.traced(0.25, False) == pytest.approx(0.2163, abs=1e-4)


def test_a_mastered_card_is_left_until_all_are_mastered():
    rival = Mastery(CARDS[:2])
    for minute in range(3):
        rival.record(answer(CARDS[0], MONDAY + timedelta(minutes=minute)))
    assert rival.calls_secured(CARDS[0])
    assert rival.choose(list(CARDS[:2]), MONDAY) == CARDS[1]


def test_the_priority_after_a_wrong_answer_grows_from_below_zero_with_every_other_card():
    # a (N - D) W with a = 0.1, D = 2, W = 20: -2 at once, 0 after one other card, 6 after four.
    rival = Priority(CARDS, 0)
    card = rival.next(MONDAY)
    rival.record(answer(card, MONDAY, right=False))
    assert rival.priority(card) == pytest.approx(-2)
    for _ in range(4):
        other = rival.next(MONDAY)
        assert other != card or rival.asked > 2
        rival.shown[card] = 1
    assert rival.priority(card) == pytest.approx(6)


def test_the_priority_after_a_right_answer_grows_with_its_time():
    # a (N - D) b log(RT / r) with b = 1.1, r = 1.7, ten cards later.
    rival = Priority(CARDS, 0)
    for seconds in (1.7, 3.4, 6.8):
        rival._last[CARDS[0]] = answer(CARDS[0], MONDAY, seconds=seconds)
        rival.asked = 9
        expected = 0.1 * 8 * 1.1 * log(seconds / 1.7)
        assert rival.priority(CARDS[0]) == pytest.approx(expected)


def test_boxes_move_cards_on_and_back_and_come_out_every_second_fourth_eighth_session():
    rival = Boxes(CARDS[:1])
    card = CARDS[0]
    asked_in = []
    for session in range(1, 17):
        rival.begin(MONDAY + timedelta(days=session))
        if card in rival._due:
            asked_in.append(session)
            rival.record(answer(card, MONDAY + timedelta(days=session)))
    assert asked_in == [1, 2, 4, 8, 16]
    assert rival.calls_secured(card)
    rival.record(answer(card, MONDAY, right=False))
    assert rival.box[card] == 1


def test_activation_follows_the_decaying_traces_of_its_paper():
    # Two meetings 100 s apart: the first decays by a = 0.3, the second by c exp(m) + a, where
    # m = log(100 ** -0.3) = -1.3816: d = 0.25 * 0.2512 + 0.3 = 0.3628.
    rival = LowestActivation(CARDS)
    rival.record(answer(CARDS[0], MONDAY, seconds=4.28))
    rival._fit = lambda card: None
    rival.record(answer(CARDS[0], MONDAY + timedelta(seconds=100)))
    expected = log(300**-0.3 + 200 ** -(0.25 * exp(-1.3816) + 0.3))
    assert rival.activation(CARDS[0], 300.0) == pytest.approx(expected, abs=1e-4)


def test_a_slow_answer_raises_the_decay_and_a_quick_one_lowers_it():
    # Five seconds later 5 ** 0.3 + 0.3 = 1.92 s is expected.
    for seconds, sign in ((2.5, 1), (0.5, -1)):
        rival = LowestActivation(CARDS)
        rival.record(answer(CARDS[0], MONDAY))
        rival.record(answer(CARDS[0], MONDAY + timedelta(seconds=5), seconds=seconds))
        assert sign * (rival.intercept[CARDS[0]] - 0.3) > 0


def test_round_robin_asks_every_card_once_a_round():
    rival = RoundRobin(CARDS)
    assert [rival.next(MONDAY) for _ in range(36)] == list(CARDS) * 2


@pytest.mark.parametrize("name", RIVALS)
def test_no_rival_asks_a_card_twice_running(name):
    rival = RIVALS[name](CARDS, 1)
    rival.begin(MONDAY)
    now, asked = MONDAY, []
    for number in range(60):
        card = rival.next(now)
        asked.append(card)
        now += timedelta(seconds=5)
        rival.record(answer(card, now, right=number % 3 != 0, seconds=1 + number % 4))
    assert all(card != following for card, following in pairwise(asked))
