"""What a pupil and a teacher can count on, whichever way the planner weighs the cards."""

import itertools
import random
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drills.cards.card import cards_of, default_cards, key_cards
from drills.learning.planner import Planner, Response, State
from landmarks.sets import built_in_sets

START = datetime(2026, 3, 2, 16, tzinfo=UTC)
CARDS = default_cards()
FIVE = built_in_sets()["five"]


def practise(planner, now, answer, gap=1.0):
    """Play one session; `answer` gives (seconds, correct) for a card. Give what was asked."""
    asked = []
    while (card := planner.next(now)) is not None:
        seconds, correct = answer(card)
        now += timedelta(seconds=seconds)
        played = card.key if correct else card.key + 2
        response = Response(card, now, seconds, correct, played)
        planner.record(response)
        asked.append(response)
        now += timedelta(seconds=gap)
        assert len(asked) < 1000
    return asked


def weeks_of(answer, days=10, cards=CARDS):
    """Practise every other day; give the planner, the moment after, and all responses."""
    planner, now, history = Planner(cards), START, []
    for _ in range(days):
        history += practise(planner, now, answer)
        now += timedelta(days=2)
    return planner, now, history


def reader(share, seconds, seed=0):
    """A pupil who is right so often, about so quickly."""
    dice = random.Random(seed)
    return lambda card: (seconds * dice.lognormvariate(0, 0.2), dice.random() < share)


def test_a_note_that_was_never_asked_is_new():
    standing = Planner(CARDS).standing(CARDS[0], START)
    assert standing.state is State.NEW
    assert (standing.median_seconds, standing.accuracy) == (None, None)


def test_a_pupil_who_reads_every_note_at_sight_gets_them_inked_within_days():
    planner, now, _ = weeks_of(reader(1.0, 0.9), days=6)
    states = [planner.standing(card, now).state for card in CARDS]
    assert states.count(State.INK) == len(CARDS)


def test_one_day_is_never_enough_to_ink_a_note():
    planner = Planner(CARDS)
    practise(planner, START, reader(1.0, 0.8))
    evening = START + timedelta(hours=3)
    assert all(planner.standing(card, evening).state is not State.INK for card in CARDS)


def test_a_pupil_who_guesses_gets_next_to_no_ink():
    planner, now, _ = weeks_of(reader(0.4, 1.0))
    assert sum(planner.standing(card, now).state is State.INK for card in CARDS) <= 1


def test_a_pupil_who_counts_every_note_up_slowly_gets_no_ink():
    planner, now, _ = weeks_of(reader(1.0, 9.0), days=5)
    assert all(planner.standing(card, now).state is not State.INK for card in CARDS)


def test_one_slip_does_not_take_the_ink_away():
    planner, now, _ = weeks_of(reader(1.0, 0.9), days=8)
    inked = [card for card in CARDS if planner.standing(card, now).state is State.INK]
    card = inked[0]
    planner.record(Response(card, now, 1.2, False, card.key + 2))
    assert planner.standing(card, now).state is State.INK


def test_a_note_that_is_always_missed_is_not_inked_while_the_others_are():
    weak = next(card for card in CARDS if card.id == "landmark/bass/F3")
    sure = reader(1.0, 0.9)
    planner, now, _ = weeks_of(lambda card: (1.5, False) if card == weak else sure(card))
    assert planner.standing(weak, now).state is not State.INK
    strong = next(card for card in CARDS if card.id == "landmark/treble/G4")
    assert planner.standing(strong, now).state is State.INK


def test_the_weak_note_is_asked_more_often_than_the_sure_ones():
    weak = next(card for card in CARDS if card.id == "landmark/treble/C5")
    sure, shaky = reader(1.0, 0.9), reader(0.5, 2.5, seed=1)
    _, _, history = weeks_of(lambda card: (shaky if card == weak else sure)(card))
    asked = {card: sum(r.card == card for r in history) for card in CARDS}
    others = [count for card, count in asked.items() if card != weak]
    assert asked[weak] > 1.5 * sorted(others)[len(others) // 2]


def test_the_same_card_is_never_asked_twice_running():
    _, _, history = weeks_of(reader(0.8, 1.5), days=4)
    pairs = itertools.pairwise(history)
    same_session = [(a, b) for a, b in pairs if b.at - a.at < timedelta(hours=1)]
    assert all(a.card != b.card for a, b in same_session)


@pytest.mark.parametrize("seed", range(5))
def test_a_session_ends_within_its_minutes_and_on_a_success(seed):
    planner = Planner(CARDS, seed=seed, minutes=5)
    asked = practise(planner, START, reader(0.8, 2.0, seed))
    assert asked[-1].at - START < timedelta(minutes=6)
    assert asked[-1].correct


def test_the_same_seed_asks_the_same_cards():
    first, second = (practise(Planner(CARDS, seed=3), START, reader(0.8, 1.5)) for _ in range(2))
    assert first == second


def test_the_order_of_the_history_does_not_matter():
    _, now, history = weeks_of(reader(0.85, 1.4), days=4)
    shuffled = list(history)
    random.Random(1).shuffle(shuffled)
    one, other = Planner(CARDS, history), Planner(CARDS, shuffled)
    assert [one.standing(c, now) for c in CARDS] == [other.standing(c, now) for c in CARDS]


def test_a_restarted_program_knows_what_it_knew():
    planner, now, history = weeks_of(reader(0.9, 1.2), days=5)
    again = Planner(CARDS, history)
    for card in CARDS:
        before, after = planner.standing(card, now), again.standing(card, now)
        assert before.state == after.state
        assert before.p_secured == pytest.approx(after.p_secured)


def test_answers_on_cards_of_another_set_do_no_harm():
    others = cards_of(built_in_sets()["cs"])
    foreign = next(card for card in others if card not in CARDS)
    planner = Planner(CARDS, [Response(foreign, START, 1.0, True, foreign.key)])
    assert planner.next(START + timedelta(days=1)) in CARDS


def test_a_card_that_gets_no_counted_answer_does_not_stop_the_session():
    planner, now = Planner(CARDS), START
    asked = [planner.next(now + timedelta(seconds=3 * n)) for n in range(10)]
    assert None not in asked


def test_keys_lit_on_the_strip_are_asked_first_but_are_no_notes_to_secure():
    planner = Planner((*CARDS, *key_cards(FIVE)))
    asked = practise(planner, START, reader(1.0, 0.9))
    assert asked[0].card.kind == "key"
    assert 0 < sum(r.card.kind == "key" for r in asked) < len(asked) / 2


def test_months_away_fade_the_ink():
    planner, now, _ = weeks_of(reader(1.0, 0.9), days=5)
    later = now + timedelta(days=365)
    assert any(planner.standing(card, later).state is State.FADED for card in CARDS)


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(
        st.tuples(
            st.sampled_from(CARDS),
            st.floats(0.15, 30),
            st.booleans(),
            st.integers(21, 108),
            st.integers(0, 40 * 86_400),
        ),
        max_size=60,
    )
)
def test_whatever_was_answered_every_standing_is_a_probability_and_a_sentence(answers):
    history = [
        Response(card, START + timedelta(seconds=at), seconds, right, card.key if right else key)
        for card, seconds, right, key, at in answers
        if right or key != card.key
    ]
    planner, now = Planner(CARDS, history), START + timedelta(days=41)
    for card in CARDS:
        standing = planner.standing(card, now)
        assert 0.0 <= standing.p_secured <= 1.0
        assert standing.why.endswith(".") and "\n" not in standing.why
        assert 0.0 <= standing.nearness <= 1.0
    assert planner.next(now) in CARDS


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 9), st.integers(0, 2)), min_size=20, max_size=80),
    st.floats(0.5, 1.0),
)
def test_no_note_is_ever_in_ink_of_whose_last_ten_under_eight_are_right(days, share):
    dice, planner, card, rights = random.Random(1), Planner(CARDS[:2]), CARDS[0], []
    now = START
    for gap, minutes in days:
        now += timedelta(days=gap / 3, minutes=minutes)
        rights.append(dice.random() < share)
        played = card.key if rights[-1] else card.key + 12
        planner.record(Response(card, now, 0.9, rights[-1], played))
        standing = planner.standing(card, now)
        if standing.state is State.INK:
            assert sum(rights[-10:]) >= 0.8 * len(rights[-10:])
            assert standing.accuracy == sum(rights[-10:]) / len(rights[-10:])
