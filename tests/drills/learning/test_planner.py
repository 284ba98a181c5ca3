"""Which card comes next, when a new one enters, when the session ends."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from random import Random
from statistics import fmean

import pytest

from drills.cards.card import Kind, default_cards, key_cards
from drills.learning.planner import PLACEMENT_CARDS, Planner, Response, State
from landmarks.sets import DEFAULT_SET, built_in_sets

MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
DAY = timedelta(days=1)
CARDS = default_cards()
KEYS = key_cards(built_in_sets()[DEFAULT_SET])


def play(planner, now, knows, seconds=1.2, random=None):
    """Play one session; `knows` says of a card whether it is played right. Give its answers."""
    random = random or Random(0)
    answers = []
    while (card := planner.next(now)) is not None:
        right = card.kind is Kind.KEY or knows(card)
        took = seconds if right else 3.0
        now += timedelta(seconds=took)
        played = card.key if right else card.key + random.choice([-3, 2, 4])
        response = Response(card, now, took, right, played)
        planner.record(response)
        answers.append(response)
        now += timedelta(seconds=2)
        assert len(answers) < 500
    return answers


def test_a_pupil_who_knows_everything_meets_every_card_and_soon_inks_all():
    planner = Planner(CARDS)
    first = play(planner, MONDAY, lambda card: True)
    assert {answer.card for answer in first} == set(CARDS)
    for day in range(2, 14, 2):
        play(planner, MONDAY + day * DAY, lambda card: True)
    now = MONDAY + 14 * DAY
    assert all(planner.standing(card, now).state is State.INK for card in CARDS)


def test_a_session_gets_short_when_more_would_not_help():
    planner = Planner(CARDS)
    lengths = [len(play(planner, MONDAY + day * DAY, lambda card: True)) for day in range(0, 16, 2)]
    assert lengths[-1] <= 1.5 * len(CARDS)


def test_a_beginner_is_placed_within_a_few_cards():
    planner = Planner(CARDS)
    answers = play(planner, MONDAY, lambda card: False)
    met = list(dict.fromkeys(answer.card for answer in answers[:8]))
    assert len(met) <= 5


def test_placement_finds_what_is_known_in_at_most_fifteen_cards():
    known = set(CARDS[:12])
    planner = Planner(CARDS)
    answers = play(planner, MONDAY, lambda card: card in known)
    placed = [answer.card for answer in answers[:PLACEMENT_CARDS]]
    assert known <= set(placed)


def test_a_session_ends_at_its_time_and_on_a_success():
    chance = Random(3)
    planner = Planner(CARDS, minutes=4)
    for day in range(5):
        start = MONDAY + day * DAY
        answers = play(planner, start, lambda card: chance.random() < 0.6)
        assert answers[-1].correct
        assert answers[-1].at - start < timedelta(minutes=5)
        assert planner.next(answers[-1].at) is None


def test_the_same_seed_gives_the_same_cards():
    runs = [
        [
            answer.card
            for answer in play(Planner(CARDS, seed=4), MONDAY, lambda card: hash(card) % 3)
        ]
        for _ in range(2)
    ]
    assert runs[0] == runs[1]


def test_history_folded_at_once_is_the_same_as_answers_one_by_one():
    planner = Planner(CARDS)
    history = []
    for day in range(3):
        history += play(planner, MONDAY + day * DAY, lambda card: card.key % 2)
    again = Planner(CARDS, Random(0).sample(history, len(history)))
    now = MONDAY + 4 * DAY
    assert [again.standing(card, now) for card in CARDS] == [
        planner.standing(card, now) for card in CARDS
    ]


def test_a_card_is_never_asked_twice_running():
    answers = play(Planner(CARDS), MONDAY, lambda card: card.key % 3)
    cards = [answer.card for answer in answers]
    assert all(card != following for card, following in pairwise(cards))


def test_cards_not_known_are_asked_more_than_cards_known():
    weak = set(CARDS[2:5])
    answers = play(Planner(CARDS), MONDAY, lambda card: card not in weak)
    asked = [answer.card for answer in answers]
    assert fmean(asked.count(card) for card in weak) > 2 * fmean(
        asked.count(card) for card in set(CARDS) - weak
    )


def test_a_beginner_has_only_so_many_cards_in_hand():
    answers = play(Planner(CARDS), MONDAY, lambda card: False)
    assert len({answer.card for answer in answers}) <= 11


def met_by_guessing(share, seed):
    """Cards met in the first forty by who plays that share of them right, but not fluently."""
    chance = Random(seed)
    planner = Planner(CARDS, seed=seed)
    answers = play(planner, MONDAY, lambda card: chance.random() < share, seconds=5.0)
    return len({answer.card for answer in answers[:40]})


def test_the_more_goes_right_the_more_cards_are_in_hand_at_once():
    none, few, many = (
        fmean(met_by_guessing(share, seed) for seed in range(8)) for share in (0.0, 0.2, 0.4)
    )
    assert none == 4
    assert 5 <= few <= many - 1


def test_both_clefs_are_mixed():
    answers = play(Planner(CARDS), MONDAY, lambda card: card.key % 2)
    clefs = [answer.card.clef for answer in answers]
    assert 0.25 < fmean(clef.name == "treble" for clef in clefs) < 0.75
    changes = fmean(clef != after for clef, after in pairwise(clefs))
    assert changes > 0.3


def test_shown_keys_come_first_in_a_first_session_and_now_and_then_later():
    planner = Planner((*KEYS, *CARDS))
    first = play(planner, MONDAY, lambda card: True)
    assert [answer.card.kind for answer in first[:4]] == [Kind.KEY] * 4
    assert planner.fluent_seconds == pytest.approx(2.5 * 1.2, rel=0.1)
    later = play(planner, MONDAY + DAY, lambda card: True)
    assert 1 <= sum(answer.card.kind is Kind.KEY for answer in later) <= 3


def test_a_faded_card_is_brought_back():
    planner = Planner(CARDS)
    for day in range(8):
        play(planner, MONDAY + day * DAY, lambda card: True)
    lost = CARDS[5]
    answers = []
    for day in (9, 10, 11):
        answers += play(planner, MONDAY + day * DAY, lambda card: card != lost)
    assert planner.standing(lost, MONDAY + 12 * DAY).state is State.FADED
    asked = [answer.card for answer in answers]
    assert asked.count(lost) == max(asked.count(card) for card in CARDS)


def test_a_card_whose_answer_was_not_counted_may_come_again_and_does_no_harm():
    planner = Planner(CARDS)
    shown = [planner.next(MONDAY + timedelta(seconds=9 * number)) for number in range(20)]
    assert all(card is not None for card in shown)
    assert all(card != after for card, after in pairwise(shown))


def test_a_set_of_one_card_can_be_practised():
    answers = play(Planner(CARDS[:1]), MONDAY, lambda card: True)
    assert answers


def test_an_answer_on_a_card_of_another_set_is_taken_in_quietly():
    planner = Planner(CARDS[:3])
    planner.record(Response(CARDS[9], MONDAY, 1.0, True, CARDS[9].key))
    assert planner.standing(CARDS[0], MONDAY).state is State.NEW
