"""What answers tell about a pupil: rows of answers, and what the model then believes."""

from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from scipy import stats

from drills.cards.card import Card, Kind, default_cards, key_cards, parse_card
from drills.learning import facts
from drills.learning.fluency import Fluency
from drills.learning.model import Learner
from drills.learning.model.explain import explained
from drills.learning.response import Response, State
from landmarks.pitch import Pitch
from landmarks.sets import DEFAULT_SET, built_in_sets
from landmarks.stave import BASS, TREBLE

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


def brushed(card, random):
    return card.key + random.choice([-1, 1])


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


def test_a_clef_slip_weakens_the_twin_position():
    treble = Card(Kind.LANDMARK, TREBLE, Pitch.parse("C5"), Pitch.parse("C5"))
    twin = Card(Kind.STEP, BASS, Pitch.parse("E3"), Pitch.parse("F3"))
    learner = Learner([treble, twin])
    for card in (treble, twin):
        learner.observe(answer(card, MONDAY))
    before = learner.right_share(twin, MONDAY + DAY)
    learner.observe(answer(treble, MONDAY + MINUTE, 2.0, played=Pitch.parse("E3").midi))
    assert learner.right_share(twin, MONDAY + DAY) < before


def test_a_step_slip_weakens_the_neighbour():
    neighbour = next(card for card in CARDS if str(card.target) == "A4")
    learner = taught(days=1, times=1)
    before = learner.right_share(neighbour, MONDAY + DAY)
    learner.observe(answer(TREBLE_G, MONDAY + 9 * MINUTE, 2.0, played=neighbour.key))
    assert learner.right_share(neighbour, MONDAY + DAY) < before


def test_a_secured_landmark_helps_the_steps_around_it_before_they_are_met():
    step = next(card for card in CARDS if card.kind is Kind.STEP and card.clef == TREBLE)
    own = next(card for card in CARDS if card.target == step.anchor and card.clef == step.clef)
    helped = {}
    for landmark in (own, BASS_F):
        learner = Learner([landmark, step])
        for day in range(12):
            for minutes in (0, 5):
                learner.observe(answer(landmark, MONDAY + day * DAY + minutes * MINUTE))
        assert learner.state(landmark, MONDAY + 12 * DAY) is State.INK
        helped[landmark] = learner.p_secured(step, MONDAY + 12 * DAY)
    assert helped[own] > helped[BASS_F]


def test_fluent_time_follows_the_keys_that_are_shown():
    keys = key_cards(built_in_sets()[DEFAULT_SET])
    quick, slow = (Learner((*keys, *CARDS)) for _ in range(2))
    for learner, seconds in ((quick, 0.6), (slow, 1.4)):
        for number in range(8):
            learner.observe(answer(keys[0], MONDAY + number * MINUTE, seconds))
    assert quick.pupil.fluent_seconds == pytest.approx(2.5 * 0.6, rel=0.1)
    assert slow.pupil.fluent_seconds == pytest.approx(2.5 * 1.4, rel=0.1)


def test_fluent_time_has_a_teachers_factor_and_cap():
    keys = key_cards(built_in_sets()[DEFAULT_SET])
    learner = Learner(keys, Fluency(factor=2.0, cap=1.0))
    for number in range(8):
        learner.observe(answer(keys[0], MONDAY + number * MINUTE, 3.0))
    assert learner.pupil.fluent_seconds == 1.0


def test_a_single_pause_over_a_card_hardly_moves_it():
    learner = taught(days=4)
    now = MONDAY + 4 * DAY
    before, wander = learner.p_secured(TREBLE_G, now), learner.pupil.wander
    learner.observe(answer(TREBLE_G, now, seconds=20.0))
    assert learner.p_secured(TREBLE_G, now) > 0.75 * before
    assert learner.pupil.wander > wander


def test_the_share_of_brushed_keys_is_learnt():
    learner = slipping(brushed, share=0.12, days=6, seed=2)
    assert 0.06 < learner.pupil.brush < 0.18
    now = MONDAY + 6 * DAY
    assert sum(learner.state(card, now) is State.INK for card in CARDS) > 14


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
    standing = explained(learner, TREBLE_G, MONDAY + days * DAY)
    assert standing.why.endswith(".")
    assert f"{100 * standing.p_secured:.0f} %" in standing.why
    if days:
        assert f"{3 * days} of {3 * days} right" in standing.why
        assert standing.median_seconds == 1.2
        assert standing.accuracy == 1.0
    else:
        assert standing.state is State.NEW
        assert standing.median_seconds is standing.accuracy is None


def test_a_key_card_is_no_note_to_secure_but_tells_the_key_finding_time():
    keys = key_cards(built_in_sets()[DEFAULT_SET])
    learner = Learner((*keys, *CARDS))
    learner.observe(answer(keys[0], MONDAY, 0.8))
    standing = explained(learner, keys[0], MONDAY)
    assert standing.state is State.NEW
    assert "found in about" in standing.why


def after_rests(holds):
    """A pupil who is right and quick before every rest, and after it too if the rest `holds`."""
    learner = Learner(CARDS)
    for day in range(4):
        for card in CARDS:
            now = MONDAY + day * DAY
            again = answer(card, now) if holds or not day else answer(card, now, 6.0, 40)
            learner.observe(again)
            for minutes in (4, 8, 12):
                learner.observe(answer(card, now + minutes * MINUTE))
    return learner


def test_how_much_rests_cost_is_learnt_from_what_is_left_after_them():
    assert Learner(CARDS).pupil.forgetting == 1
    assert after_rests(holds=True).pupil.forgetting < 0.5
    assert after_rests(holds=False).pupil.forgetting > 1.5


def test_the_cost_of_rests_is_the_posterior_mean_of_a_gamma_rate():
    pupil = Learner(CARDS).pupil
    for lost, usually in ((1, 0.5), (0, 0.5), (1, 1.5)):
        pupil.saw_rest(lost, usually)
    weight = facts.FORGETTING_WEIGHT.value
    assert pupil.forgetting == pytest.approx(
        stats.gamma(weight + 2, scale=1 / (weight + 2.5)).mean()
    )


def test_a_guess_on_an_unknown_card_weakens_the_neighbour_less_than_a_slip_on_a_known_one():
    neighbour = next(card for card in CARDS if str(card.target) == "A4")
    kept = {}
    for known in (True, False):
        learner = Learner([TREBLE_G, neighbour])
        learner.observe(answer(neighbour, MONDAY))
        for number in range(6):
            right = answer(TREBLE_G, MONDAY + (20 + number) * MINUTE)
            wrong = answer(TREBLE_G, MONDAY + (20 + number) * MINUTE, 5.0, 40)
            learner.observe(right if known else wrong)
        before = learner.right_share(neighbour, MONDAY + DAY)
        learner.observe(answer(TREBLE_G, MONDAY + 30 * MINUTE, 2.0, neighbour.key))
        kept[known] = learner.right_share(neighbour, MONDAY + DAY) / before
    assert kept[True] < kept[False] < 1


def test_what_a_pupil_brings_is_overturned_by_two_or_three_answers():
    brought = {TREBLE_G: 12.0}
    learner = Learner(CARDS, brought=brought)
    plain = Learner(CARDS)
    at = MONDAY
    assert learner.gaps(TREBLE_G, at)[0] < 0.35 < plain.gaps(TREBLE_G, at)[0]
    for _ in range(3):
        learner.observe(Response(TREBLE_G, at, 3.0, False, 71))
        plain.observe(Response(TREBLE_G, at, 3.0, False, 71))
        at += DAY
    assert learner.gaps(TREBLE_G, at)[0] > 0.5
    assert learner.gaps(TREBLE_G, at)[0] == pytest.approx(plain.gaps(TREBLE_G, at)[0], abs=0.15)


def test_only_a_lit_key_measures_key_finding():
    learner = Learner(CARDS)
    for form in ("name", "place"):
        learner.observe(Response(parse_card(f"key/treble/G4/{form}"), MONDAY, 5.0, True, 67))
    assert not learner.pupil.key_measured


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


def test_keys_brushed_now_above_now_below_do_not_count_against_a_note():
    assert inked_by_careless(brushed, 0) == len(CARDS)


def test_brushes_to_one_side_count_at_most_twice_those_to_the_other():
    pupil = Learner(CARDS).pupil
    for _ in range(40):
        pupil.saw_attention(0.0, 0.1, above=True)
    assert pupil.brush_to(above=True) == pytest.approx(2 * pupil.brush_to(above=False))
    assert pupil.brush == pytest.approx(3 * pupil.brush_to(above=False))


@pytest.mark.parametrize(("days", "odds"), [(2, 1.0), (9, 1.0), (12, (24 / 19) ** 4), (30, 5.0)])
def test_many_fluent_days_raise_the_odds_that_a_note_is_secured(days, odds):
    learner = Learner(CARDS)
    for day in range(days):
        played = TREBLE_G.key + 12 if day % 4 == 1 else None
        learner.observe(answer(TREBLE_G, MONDAY + day * DAY, played=played))
        learner.observe(answer(TREBLE_G, MONDAY + day * DAY + 20 * MINUTE))
    now = MONDAY + days * DAY
    plain, told = learner.p_by_answers(TREBLE_G, now), learner.p_secured(TREBLE_G, now)
    assert 0.001 < plain < 0.99
    assert told / (1 - told) == pytest.approx(odds * plain / (1 - plain))
