"""A warm-up works on what home practice left unsecured, and ends on a success."""

from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.card import Kind, cards_of, key_cards
from drills.learning.response import Response, Standing, State
from drills.learning.warm_up import (
    FEWEST_FOR_THE_WEEK,
    LENGTHS,
    MOST_FOR_THE_WEEK,
    MOST_TIMES,
    Filter,
    Reach,
    WarmUp,
    proposal,
    week,
)
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, CLEFS, TREBLE
from tests.scripted_drill import STARTED, ListedCards

FIVE = built_in_sets()["five"]
CARDS = cards_of(FIVE)
CHANCES = {State.NEW: 0.1, State.PENCIL: 0.4, State.INK: 0.9, State.FADED: 0.3}

states = st.lists(
    st.tuples(st.sampled_from(list(State)), st.floats(0, 1)),
    min_size=len(CARDS), max_size=len(CARDS),
)  # fmt: skip
narrowings = st.builds(
    Filter,
    st.sets(st.sampled_from(list(CLEFS.values())), min_size=1).map(frozenset),
    st.sampled_from(Reach),
    st.sets(st.sampled_from([anchor.pitch for anchor in FIVE.anchors])).map(frozenset),
    st.sampled_from(LENGTHS),
)


def knowing(states):
    return {
        card: Standing(p, None, None, state, "invented")
        for card, (state, p) in zip(CARDS, states, strict=True)
    }


def all_in(state, **others):
    """Every card in one state, but for those named by their notes."""
    wanted = [
        next((State(s) for note, s in others.items() if note == str(card.target)), state)
        for card in CARDS
    ]
    return knowing([(state, CHANCES[state]) for state in wanted])


@given(states, narrowings)
def test_a_warm_up_has_only_what_the_narrowing_leaves_in_and_no_more_than_asked_for(
    states, narrowing
):
    standings = knowing(states)
    asked = proposal(CARDS, standings.__getitem__, narrowing)
    left_in = {card for card in CARDS if narrowing.holds(card)}
    assert set(asked) <= left_in
    assert len(asked) <= narrowing.length
    assert len(asked) == min(narrowing.length, MOST_TIMES * len(set(asked)))
    assert bool(asked) == bool(left_in)


@given(states, narrowings)
def test_nothing_is_asked_twice_running_while_there_is_something_else(states, narrowing):
    asked = proposal(CARDS, knowing(states).__getitem__, narrowing)
    assert len(set(asked)) <= 1 or all(one != other for one, other in pairwise(asked))


@given(states, narrowings)
def test_a_secured_note_is_left_out_before_an_unsecured_one(states, narrowing):
    standings = knowing(states)
    asked = proposal(CARDS, standings.__getitem__, narrowing)
    unsecured = {
        card
        for card in CARDS
        if narrowing.holds(card) and standings[card].state in (State.PENCIL, State.FADED)
    }
    if any(standings[card].state is State.INK for card in asked):
        assert unsecured <= set(asked)


def test_notes_never_met_wait_until_those_met_are_few():
    some_met = all_in(State.NEW, C4="pencil", G4="pencil", F3="pencil", C3="pencil", C5="pencil")
    asked = proposal(CARDS, some_met.__getitem__, Filter(length=8))
    assert all(some_met[card].state is State.PENCIL for card in asked)
    one_met = all_in(State.NEW, G4="pencil")
    asked = proposal(CARDS, one_met.__getitem__, Filter(length=8))
    assert len(set(asked)) == 1 + (8 - 2) // 2


def test_a_pupil_who_never_practised_warms_up_on_the_first_landmarks():
    asked = proposal(CARDS, all_in(State.NEW).__getitem__, Filter(length=8))
    assert set(asked) == set(CARDS[:4])


def test_it_begins_and_ends_with_what_is_surest():
    standings = all_in(State.PENCIL, G4="ink", F3="ink")
    narrowing = Filter(length=16)
    asked = proposal(CARDS, standings.__getitem__, narrowing)
    sure = sorted((standings[card].p_secured for card in asked), reverse=True)
    assert standings[asked[0]].p_secured in sure[:2]
    assert standings[asked[-1]].p_secured in sure[:2]


def test_faded_notes_come_before_pencilled_ones():
    standings = all_in(State.PENCIL, C5="faded", F3="faded")
    asked = proposal(CARDS, standings.__getitem__, Filter(length=8))
    assert {"C5", "F3"} <= {str(card.target) for card in asked}


def test_the_teacher_narrows_to_a_clef_to_steps_and_away_from_a_landmark():
    narrowing = Filter(clefs=frozenset({TREBLE}), reach=Reach.STEPS)
    standings = all_in(State.PENCIL)
    asked = proposal(CARDS, standings.__getitem__, narrowing)
    assert {(card.clef, card.kind) for card in asked} == {(TREBLE, Kind.STEP)}
    g = next(card.anchor for card in asked if str(card.anchor) == "G4")
    without = proposal(CARDS, standings.__getitem__, narrowing.toggled(g))
    assert g not in {card.anchor for card in without}
    assert narrowing.toggled(g).toggled(g) == narrowing


def test_keys_shown_on_the_strip_are_no_part_of_a_warm_up():
    cards = (*key_cards(FIVE), *CARDS)
    planner = ListedCards([])
    asked = proposal(cards, lambda card: planner.standing(card, STARTED), Filter())
    assert Kind.KEY not in {card.kind for card in asked}


def answered(warm_up, card, correct, seconds=1.5):
    now = STARTED + timedelta(seconds=10)
    warm_up.record(Response(card, now, seconds, correct, card.key if correct else card.key + 2))


def played(cards, wrong=()):
    """Play a warm-up in which the numbers in `wrong` (from 0) are missed; give what was asked."""
    planner = ListedCards([])
    warm_up, asked = WarmUp(planner, cards, STARTED), []
    while (card := warm_up.next(STARTED)) is not None:
        answered(warm_up, card, len(asked) not in wrong)
        asked.append(card)
    return warm_up, planner, asked


def test_the_planner_hears_every_answer():
    _, planner, asked = played(CARDS[:4])
    assert asked == list(CARDS[:4])
    assert [response.card for response in planner.heard] == asked


def test_a_missed_note_comes_back_after_three_others_and_only_once():
    cards = CARDS[:8]
    _, _, asked = played(cards, wrong={0, 4})
    assert asked == [*cards[:4], cards[0], *cards[4:]]


@given(st.sets(st.integers(0, 30)))
def test_it_ends_on_a_success_unless_the_closing_notes_are_missed_too(wrong):
    _, planner, asked = played(CARDS[:8], wrong)
    closing = len(asked) - 8 - len({card for card in asked if asked.count(card) > 1})
    assert planner.heard[-1].correct or len(asked) - 1 in wrong
    assert closing <= 2


def test_a_warm_up_that_was_stopped_tells_only_of_what_was_answered():
    warm_up = WarmUp(ListedCards([]), CARDS[:8], STARTED)
    card = warm_up.next(STARTED)
    answered(warm_up, card, correct=False)
    (outcome,) = warm_up.outcomes(STARTED)
    assert (outcome.card, outcome.at_once, outcome.changed) == (card, False, False)


@given(states, st.sets(st.sampled_from(CARDS[:6])))
def test_the_week_has_the_missed_notes_and_not_too_many(states, missed):
    standings = knowing(states)
    warm_up = WarmUp(ListedCards([]), CARDS[:6], STARTED)
    for card in CARDS[:6]:
        answered(warm_up, card, card not in missed)
    cards = week(CARDS, standings.__getitem__, warm_up.outcomes(STARTED))
    assert missed <= set(cards)
    assert FEWEST_FOR_THE_WEEK <= len(cards) <= MOST_FOR_THE_WEEK or len(cards) == len(missed)
    assert list(cards) == sorted(cards, key=CARDS.index)


def test_when_all_is_secured_the_week_refreshes_the_least_sure():
    standings = knowing([(State.INK, 0.8 + place / 100) for place in range(len(CARDS))])
    assert week(CARDS, standings.__getitem__, ()) == CARDS[:FEWEST_FOR_THE_WEEK]


@pytest.mark.parametrize("clef", [TREBLE, BASS])
def test_clefs_take_turns_as_long_as_both_are_left(clef):
    standings = all_in(State.PENCIL)
    both = proposal(CARDS, standings.__getitem__, Filter(length=8))
    turns = sum(one.clef != other.clef for one, other in pairwise(both))
    assert turns >= 5
    one = proposal(CARDS, standings.__getitem__, Filter(clefs=frozenset({clef}), length=8))
    assert {card.clef for card in one} == {clef}
