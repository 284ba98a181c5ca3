"""What answers tell about a pupil: rows of answers, and what the model then believes."""

from datetime import UTC, datetime, timedelta
from random import Random

import pytest

from drills.cards.card import Card, Kind, default_cards, key_cards, parse_card
from drills.learning.model import Learner
from drills.learning.model.explain import explain
from drills.learning.response import Response, State
from landmarks.pitch import Pitch
from landmarks.sets import DEFAULT_SET, built_in_sets
from landmarks.stave import TREBLE

MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
DAY = timedelta(days=1)
MINUTE = timedelta(minutes=1)
CARDS = default_cards()
TREBLE_G, BASS_F = CARDS[1], CARDS[3]


def answer(card, at, seconds=1.2, played=None):
    key = card.key if played is None else played
    return Response(card, at, seconds, key == card.key, key)


def taught(days, cards=CARDS, seconds=1.2, times=3, start=MONDAY):
    """A pupil who plays every card right, `times` a day, a few minutes apart."""
    learner = Learner(cards)
    for day in range(days):
        for time in range(times):
            for card in cards:
                learner.observe(answer(card, start + day * DAY + 4 * time * MINUTE, seconds))
    return learner


def slipping(slips, share, days, seed):
    """A pupil who plays every card quickly, twice a day, and a share of them amiss."""
    random = Random(seed)
    learner = Learner(CARDS)
    for day in range(days):
        for minutes in (0, 6):
            for card in CARDS:
                amiss = random.random() < share
                played = slips(card, random) if amiss else card.key
                at = MONDAY + day * DAY + minutes * MINUTE
                learner.observe(answer(card, at, 1.1, played))
    return learner


def test_a_pupil_who_is_always_right_and_quick_inks_every_card():
    learner = taught(days=5)
    now = MONDAY + 5 * DAY
    assert all(learner.state(card, now) is State.INK for card in CARDS)
    assert all(learner.p_secured(card, now) > 0.8 for card in CARDS)


def test_no_card_is_inked_on_its_first_day_however_good_the_answers():
    learner = taught(days=1, times=20)
    assert all(learner.state(card, MONDAY + DAY) is State.PENCIL for card in CARDS)


def test_a_pupil_who_counts_up_slowly_is_right_but_not_secured():
    learner = taught(days=6, seconds=4.5)
    now = MONDAY + 6 * DAY
    assert all(learner.state(card, now) is State.PENCIL for card in CARDS)
    assert max(learner.p_secured(card, now) for card in CARDS) < 0.2


def test_one_wrong_answer_lowers_the_probability_and_keeps_the_ink():
    learner = taught(days=6)
    now = MONDAY + 6 * DAY
    before = learner.p_secured(TREBLE_G, now)
    learner.observe(answer(TREBLE_G, now, played=60))
    assert learner.p_secured(TREBLE_G, now) < before
    assert learner.state(TREBLE_G, now) is State.INK


def test_wrong_answers_again_and_again_fade_the_ink_and_right_ones_bring_it_back():
    learner = taught(days=6)
    now = MONDAY + 6 * DAY
    for minutes in range(6):
        learner.observe(answer(TREBLE_G, now + 5 * minutes * MINUTE, 3.5, played=60))
    assert learner.state(TREBLE_G, now + DAY) is State.FADED
    for day in range(1, 12):
        for minutes in (0, 5):
            learner.observe(answer(TREBLE_G, now + day * DAY + minutes * MINUTE))
    assert learner.state(TREBLE_G, now + 12 * DAY) is State.INK


def test_one_lucky_answer_does_not_ink_a_card_that_mostly_goes_wrong():
    learner = Learner(CARDS)
    for day in range(6):
        learner.observe(answer(TREBLE_G, MONDAY + day * DAY, 3.0, played=62))
        learner.observe(answer(TREBLE_G, MONDAY + day * DAY + 5 * MINUTE))
    assert learner.state(TREBLE_G, MONDAY + 6 * DAY) is not State.INK


def test_an_inked_card_that_is_not_played_for_long_fades_and_is_less_sure():
    learner = taught(days=5)
    soon, late = MONDAY + 6 * DAY, MONDAY + 200 * DAY
    assert learner.p_secured(TREBLE_G, late) < learner.p_secured(TREBLE_G, soon)
    assert learner.state(TREBLE_G, late) is State.FADED


def test_a_single_pause_over_a_card_hardly_moves_it():
    learner = taught(days=4)
    now = MONDAY + 4 * DAY
    before = learner.p_secured(TREBLE_G, now)
    learner.observe(answer(TREBLE_G, now, seconds=20.0))
    assert learner.p_secured(TREBLE_G, now) > 0.75 * before


def test_answers_in_any_order_give_the_same_beliefs():
    random = Random(1)
    answers = [
        answer(card, MONDAY + day * DAY + place * MINUTE, random.uniform(0.8, 4), None)
        for day in range(3)
        for place, card in enumerate(CARDS)
    ]
    shuffled = random.sample(answers, len(answers))
    first, second = Learner(CARDS), Learner(CARDS)
    first.fold(answers)
    second.fold(shuffled)
    now = MONDAY + 3 * DAY
    assert [first.p_secured(card, now) for card in CARDS] == [
        second.p_secured(card, now) for card in CARDS
    ]


def test_a_note_is_known_however_it_was_asked():
    now = MONDAY + 5 * DAY
    as_landmark = taught(days=5)
    from_the_piece = Learner(CARDS)
    for card in as_landmark.cards:
        assert from_the_piece.state(card, now) is State.NEW
    pieces = [Card(Kind.PIECE, card.clef, card.target, card.anchor) for card in CARDS]
    for day in range(5):
        for time in range(3):
            for card in pieces:
                at = MONDAY + day * DAY + 4 * time * MINUTE
                from_the_piece.observe(answer(card, at, 1.2))
    for card in CARDS:
        assert from_the_piece.state(card, now) is State.INK
        assert from_the_piece.p_secured(card, now) == as_landmark.p_secured(card, now)


def test_of_cards_that_ask_for_one_note_the_first_is_asked():
    again = Card(Kind.PIECE, TREBLE_G.clef, TREBLE_G.target, TREBLE_G.anchor)
    assert Learner((*CARDS, again)).cards == CARDS
    assert Learner((again, *CARDS)).cards[0].id == "piece/treble/G4"
    assert len(Learner((again, *CARDS)).cards) == len(CARDS)


def test_an_answer_on_a_note_outside_the_set_changes_nothing():
    learner = taught(days=1)
    foreign = Card(Kind.PIECE, TREBLE, Pitch.parse("C#5"), Pitch.parse("C5"))
    now = MONDAY + DAY
    before = [learner.p_secured(card, now) for card in CARDS]
    learner.observe(answer(foreign, now, 9.0, played=61))
    assert [learner.p_secured(card, now) for card in CARDS] == before


@pytest.mark.parametrize("days", [0, 1, 6])
def test_the_sentence_for_the_teacher_carries_the_numbers(days):
    learner = taught(days)
    standing = explain(learner, TREBLE_G, MONDAY + days * DAY)
    assert standing.why.endswith(".")
    assert f"{100 * standing.p_secured:.0f} %" in standing.why
    if days:
        counted = "3 of 3 right" if days == 1 else "10 of the last 10 right"
        assert counted in standing.why
        assert standing.median_seconds == 1.2
        assert standing.accuracy == 1.0
    else:
        assert standing.state is State.NEW
        assert standing.median_seconds is standing.accuracy is None


def test_a_key_card_is_no_note_to_secure_but_tells_the_key_finding_time():
    keys = key_cards(built_in_sets()[DEFAULT_SET])
    learner = Learner((*keys, *CARDS))
    learner.observe(answer(keys[0], MONDAY, 0.8))
    standing = explain(learner, keys[0], MONDAY)
    assert standing.state is State.NEW
    assert "found in about" in standing.why


def test_what_a_pupil_brings_is_overturned_by_two_or_three_answers():
    learner = Learner(CARDS, prior_knowledge={TREBLE_G: 12.0})
    plain = Learner(CARDS)
    at = MONDAY
    assert learner.fluent_share(TREBLE_G, at) > 0.6 > plain.fluent_share(TREBLE_G, at)
    for _ in range(3):
        learner.observe(Response(TREBLE_G, at, 3.0, False, 71))
        plain.observe(Response(TREBLE_G, at, 3.0, False, 71))
        at += DAY
    assert learner.fluent_share(TREBLE_G, at) < 0.5
    assert learner.fluent_share(TREBLE_G, at) == pytest.approx(
        plain.fluent_share(TREBLE_G, at), abs=0.15
    )


def test_only_a_lit_key_measures_key_finding():
    learner = Learner(CARDS)
    for form in ("name", "place"):
        learner.observe(Response(parse_card(f"key/treble/G4/{form}"), MONDAY, 5.0, True, 67))
    assert not learner.hand.measured


@pytest.mark.parametrize(("weeks", "state"), [(1, State.INK), (4, State.FADED), (8, State.FADED)])
def test_ink_holds_over_a_week_away_and_asks_for_a_re_check_after_four(weeks, state):
    learner = taught(days=10)
    assert learner.state(TREBLE_G, MONDAY + 9 * DAY + 7 * weeks * DAY) is state


def test_what_faded_by_absence_is_ink_again_after_a_short_re_check():
    learner = taught(days=10)
    back = MONDAY + 70 * DAY
    assert learner.state(TREBLE_G, back) is State.FADED
    for minutes in (0, 6):
        learner.observe(answer(TREBLE_G, back + minutes * MINUTE))
    assert learner.state(TREBLE_G, back + 10 * MINUTE) is State.INK


def inked_by_careless(slips, seed):
    """Notes inked after 24 days by who plays three times in twenty amiss."""
    learner = slipping(slips, share=0.15, days=24, seed=seed)
    return sum(learner.state(card, MONDAY + 24 * DAY) is State.INK for card in CARDS)


@pytest.mark.parametrize(
    "slips",
    [
        lambda card, random: card.target.stepped(1).midi,
        lambda card, random: card.target.stepped(-1).midi,
        lambda card, random: card.key + 1,
        lambda card, random: card.key - 2,
        lambda card, random: card.key + random.choice([-12, 12]),
    ],
    ids=["key above", "key below", "half a step up", "whole step down", "octave"],
)
def test_who_often_plays_the_same_wrong_key_secures_few_notes(slips):
    pupils = range(4)
    inked = sum(inked_by_careless(slips, seed) for seed in pupils)
    assert inked < 0.25 * len(pupils) * len(CARDS)
