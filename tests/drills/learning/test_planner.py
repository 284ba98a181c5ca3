"""Which card comes next, when a new one enters, when the session ends."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from itertools import pairwise
from random import Random
from statistics import fmean

import pytest

from drills.cards.card import Kind, default_cards, key_cards
from drills.learning.parameters import USUAL
from drills.learning.planner import Planner, Response, State
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


def test_a_session_ends_when_every_note_is_in_ink_and_was_read_twice_today():
    planner = Planner(CARDS)
    sessions = [play(planner, MONDAY + day * DAY, lambda card: True) for day in range(0, 24, 2)]
    assert len(sessions[-1]) == USUAL.upkeep_rounds * len(CARDS)
    assert planner.next(sessions[-1][-1].at) is None


def test_without_upkeep_nothing_in_ink_is_asked():
    planner = Planner(CARDS)
    for day in range(0, 24, 2):
        history = play(planner, MONDAY + day * DAY, lambda card: True)
    assert history
    planner = Planner(CARDS, upkeep=False)
    for day in range(0, 24, 2):
        now = MONDAY + day * DAY
        inked = {card for card in CARDS if planner.standing(card, now).state is State.INK}
        answers = play(planner, now, lambda card: True)
        assert not inked & {answer.card for answer in answers}
    assert not answers


def test_what_is_secured_is_asked_ever_more_seldom_while_a_note_is_in_doubt():
    planner, weak = Planner(CARDS, minutes=4), CARDS[4]
    gaps = []
    for day in range(10):
        asked = [
            answer.card for answer in play(planner, MONDAY + day * DAY, lambda card: card != weak)
        ]
        gaps.append(len(asked) / max(1, asked.count(CARDS[0])))
    assert fmean(gaps[-3:]) > fmean(gaps[:3])


def test_who_fails_on_every_note_meets_twelve_and_no_more_for_now():
    answers = play(Planner(CARDS), MONDAY, lambda card: False)
    assert len({answer.card for answer in answers}) == USUAL.in_hand


def test_the_planner_goes_by_the_numbers_it_is_handed():
    planner = Planner(CARDS, parameters=replace(USUAL, in_hand=3))
    answers = play(planner, MONDAY, lambda card: False)
    assert len({answer.card for answer in answers}) == 3


def test_what_is_known_already_is_found_by_asking_every_note_once():
    known = set(CARDS[:12])
    answers = play(Planner(CARDS), MONDAY, lambda card: card in known)
    placed = [answer.card for answer in answers[: len(CARDS)]]
    assert set(placed) == set(CARDS)


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


def test_the_more_goes_right_the_sooner_a_new_note_comes():
    def met(share, seed):
        chance = Random(seed)
        answers = play(Planner(CARDS), MONDAY, lambda card: chance.random() < share)
        return len({answer.card for answer in answers[:20]})

    few, many = (fmean(met(share, seed) for seed in range(8)) for share in (0.1, 0.6))
    assert few < many - 1


def test_what_was_asked_just_now_rests_while_others_wait():
    answers = play(Planner(CARDS), MONDAY, lambda card: card.key % 3)
    cards = [answer.card for answer in answers]
    near = fmean(card in cards[max(0, at - 3) : at] for at, card in enumerate(cards))
    assert near < 0.1


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


def in_the_future(days):
    """A pupil's two sessions, and a third dated `days` ahead by a wrong clock."""
    planner, history = Planner(CARDS), []
    for day in (0, 1):
        history += play(planner, MONDAY + day * DAY, lambda card: card.key % 3)
    wrong = play(Planner(CARDS), MONDAY + (1 + days) * DAY, lambda card: True)
    return history, wrong


@pytest.mark.parametrize("days", [1, 31, 3652])
def test_a_session_dated_ahead_by_a_wrong_clock_is_set_aside_and_disables_nothing(days):
    history, wrong = in_the_future(days)
    now = MONDAY + 1.5 * DAY
    planner, usual = Planner(CARDS, [*wrong, *history]), Planner(CARDS, history)
    asked = [play(each, now, lambda card: card.key % 3) for each in (planner, usual)]
    assert [answer.card for answer in asked[0]] == [answer.card for answer in asked[1]]
    assert len(asked[0]) > 40
    assert planner.set_aside == len(wrong)
    assert usual.set_aside == 0


def test_what_was_set_aside_counts_when_its_time_has_come():
    history, wrong = in_the_future(31)
    planner = Planner(CARDS, [*wrong, *history])
    later = MONDAY + 40 * DAY
    assert planner.standing(CARDS[0], later) == Planner(CARDS, [*history, *wrong]).standing(
        CARDS[0], later
    )
    assert planner.set_aside == 0


def test_a_clock_set_back_in_a_session_begins_another_and_goes_on():
    planner = Planner(CARDS, minutes=4)
    play(planner, MONDAY + 30 * DAY, lambda card: card.key % 3)
    answers = play(planner, MONDAY, lambda card: card.key % 3)
    assert len(answers) > 20
    assert answers[-1].at - MONDAY < timedelta(minutes=5)


def test_zones_and_daylight_saving_change_nothing():
    history, _ = in_the_future(1)
    east = timezone(timedelta(hours=13))
    moved = [replace(answer, at=answer.at.astimezone(east)) for answer in history]
    now = MONDAY + 3 * DAY
    asked = [
        [answer.card for answer in play(Planner(CARDS, each), now, lambda card: card.key % 3)]
        for each in (history, moved)
    ]
    assert asked[0] == asked[1]


@pytest.mark.parametrize("seconds", [0.0, 1e-9, 1e12, float("inf")])
def test_an_answer_whose_time_cannot_be_does_no_harm(seconds):
    planner = Planner((*KEYS, *CARDS))
    for card in (KEYS[0], CARDS[0]):
        planner.record(Response(card, MONDAY, seconds, True, card.key))
    answers = play(planner, MONDAY + DAY, lambda card: True)
    assert {answer.card for answer in answers} >= set(CARDS)
    assert 1 < planner.fluent_seconds <= 4


def test_a_pencil_darkens_with_every_session_of_a_diligent_pupil_until_it_is_ink():
    chance, planner = Random(5), Planner(CARDS, minutes=5)
    before, first_ink = dict.fromkeys(CARDS, 0.0), None
    for day in range(10):
        answers = play(planner, MONDAY + day * DAY, lambda card: chance.random() < 0.9)
        now = answers[-1].at
        standings = {card: planner.standing(card, now) for card in CARDS}
        nearer = [card for card in CARDS if standings[card].nearness > before[card]]
        inked = [card for card in CARDS if standings[card].state is State.INK]
        assert nearer or len(inked) == len(CARDS)
        if inked and first_ink is None:
            first_ink = day
        before = {card: standing.nearness for card, standing in standings.items()}
    assert first_ink is not None
    assert first_ink <= 7


def test_nearness_runs_from_a_note_not_met_to_ink():
    planner = Planner(CARDS)
    assert planner.standing(CARDS[0], MONDAY).nearness == 0
    for day in range(0, 24, 2):
        play(planner, MONDAY + day * DAY, lambda card: True)
    standing = planner.standing(CARDS[0], MONDAY + 23 * DAY)
    assert (standing.state, standing.nearness) == (State.INK, 1)
