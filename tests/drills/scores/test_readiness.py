"""What a piece asks of a pupil, how much is covered, and what goes into the week."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from drills.cards.card import Card, Kind, cards_of, parse_card
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.learning.response import Response, State
from drills.learning.warm_up import MOST_FOR_THE_WEEK
from drills.scores.knowledge import Knowledge
from drills.scores.readiness import Cover
from drills.scores.shelf import ShelfPiece, ranked
from drills.scores.week import MOST_FROM_A_PIECE, cards_for_the_week, plan_with_piece
from drills.storage.plan import home_plan
from landmarks.score import read_scores
from landmarks.sets import built_in_sets
from landmarks.stave import TREBLE

SETS = built_in_sets()
FIVE = SETS["five"]
SCORES = Path(__file__).parents[3] / "sample_sessions" / "scores"
(KITES,) = read_scores(SCORES / "two-kites.musicxml")
(FENCE,) = read_scores(SCORES / "fence-and-gate.musicxml")
NOW = datetime(2026, 10, 12, 17, tzinfo=UTC)


def answers(*ids, days=6):
    """A pupil who played these cards right and quickly every day until yesterday."""
    return [
        Response(card, NOW - timedelta(days=day, minutes=-4 * time), 1.2, True, card.key)
        for day in range(days, 0, -1)
        for time in range(3)
        for card in map(parse_card, ids)
    ]


def of_piece(score, history=None, landmarks=FIVE):
    return Knowledge([score], landmarks, NOW, history).readiness(score)


def note(piece, clef, name):
    (found,) = (n for n in piece.notes if (n.clef.name, str(n.written)) == (clef, name))
    return found


# Counted by hand in the printed score of Two Kites.
def test_without_a_pupil_the_landmarks_of_the_set_cover_the_piece():
    piece = of_piece(KITES)
    assert (piece.heads, piece.secured, piece.one_step) == (26, 16, 10)
    assert note(piece, "treble", "A4").count == 3
    assert note(piece, "treble", "A4").steps == 1
    assert note(piece, "treble", "A4").state is None
    assert (piece.first_unsecured, piece.first_further) == ("1", None)


def test_what_a_recorder_player_brings_counts_as_it_does_in_practice():
    notes = [card for card in cards_of(FIVE) if card.clef is TREBLE]
    history = [
        Response(card, NOW - timedelta(days=day), 1.2, True, card.key)
        for day in (4, 3, 2, 1)
        for card in notes
    ]
    plays = Observations(pupil="Piper").seen("reads-for", "recorder", NOW - timedelta(days=5))
    piper = Knowledge([KITES], FIVE, NOW, history, brought=prior_knowledge_of(plays))
    odds = prior_knowledge_of(plays).odds(notes)
    practice = Planner(cards_of(FIVE), history, prior_knowledge=odds)
    assert {note: piper.state(note) for note in notes} == {
        note: practice.standing(note, NOW).state for note in notes
    }
    assert piper.readiness(KITES).secured > of_piece(KITES, history).secured


def test_what_is_brought_secures_nothing_before_it_is_played():
    plays = Observations(pupil="Piper").seen("reads-for", "recorder", NOW - timedelta(days=3))
    assert (
        Knowledge([KITES], FIVE, NOW, [], brought=prior_knowledge_of(plays))
        .readiness(KITES)
        .secured
        == 0
    )


def test_a_pupil_who_secured_two_landmarks_has_their_heads_and_their_neighbours():
    piece = of_piece(KITES, answers("landmark/treble/G4", "landmark/bass/F3"))
    assert note(piece, "treble", "G4").state is State.INK
    assert note(piece, "treble", "A4").cover is Cover.ONE_STEP
    assert note(piece, "treble", "C5").cover is Cover.FURTHER
    treble_g_and_bass_f, their_neighbours = 4 + 4, 3 + 1 + 1 + 1
    assert (piece.secured, piece.one_step) == (treble_g_and_bass_f, their_neighbours)
    assert (piece.first_unsecured, piece.first_further) == ("1", "1")


def test_a_note_secured_from_a_piece_is_secured_for_every_piece():
    piece = of_piece(KITES, answers("piece/treble/G4"))
    assert note(piece, "treble", "G4").state is State.INK
    assert note(piece, "treble", "G4").card == Card(
        Kind.LANDMARK, note(piece, "treble", "G4").clef, parse_card("piece/treble/G4").target,
        parse_card("piece/treble/G4").target,
    )  # fmt: skip


def test_a_note_read_only_beside_its_landmark_is_not_secured():
    piece = of_piece(KITES, answers("step/treble/A4/beside-G4"))
    assert note(piece, "treble", "A4").state is State.NEW
    assert piece.secured == 0


def test_a_sharp_is_a_note_of_its_own_and_no_step_from_a_secured_one():
    piece = of_piece(FENCE, answers("step/treble/F4"))
    sharp = note(piece, "treble", "F#4")
    assert (sharp.cover, sharp.natural_state, sharp.state) == (
        Cover.FURTHER, State.INK, State.NEW,
    )  # fmt: skip
    assert (sharp.count, sharp.signs) == (2, 0)
    assert note(piece, "treble", "Bb4").signs == 1
    assert sharp.card.id == "piece/treble/F#4"
    assert str(sharp.card.anchor) == "G4"


def test_the_week_takes_what_was_begun_then_what_is_near():
    history = answers("landmark/treble/G4", "landmark/bass/F3") + answers("step/bass/B3", days=1)
    week = cards_for_the_week(of_piece(KITES, history))
    assert len(week) == MOST_FROM_A_PIECE
    assert week[0].id == "step/bass/B3"
    assert {card.id for card in week[1:5]} == {
        "step/treble/A4", "step/treble/F4", "step/bass/G3", "step/bass/E3",
    }  # fmt: skip


def test_a_secured_piece_asks_for_nothing():
    every = [card.id for card in cards_of(FIVE)]
    piece = of_piece(KITES, answers(*every))
    assert piece.secured == piece.heads
    assert cards_for_the_week(piece) == ()
    assert piece.first_unsecured is None


def test_the_cards_of_a_piece_come_first_in_the_plan_and_each_note_once():
    knowledge = Knowledge([FENCE], FIVE, NOW, [])
    piece = knowledge.readiness(FENCE)
    week = cards_for_the_week(piece)
    before = home_plan("Fern", NOW, [parse_card(week[0].id), parse_card("landmark/bass/F3")], 6)
    plan = plan_with_piece("Fern", NOW, week, before, piece, knowledge.standing)
    assert plan.cards == (*(card.id for card in week), "landmark/bass/F3")
    assert plan.minutes == 6


def test_without_a_plan_the_rest_of_the_week_is_proposed_as_after_a_warm_up():
    elsewhere = ("step/treble/D5", "step/bass/D3")
    knowledge = Knowledge([KITES], FIVE, NOW, answers(*elsewhere, days=1))
    piece = knowledge.readiness(KITES)
    week = cards_for_the_week(piece)
    plan = plan_with_piece("Fern", NOW, week, None, piece, knowledge.standing)
    assert plan.cards[: len(week)] == tuple(card.id for card in week)
    assert set(elsewhere) <= set(plan.cards)
    assert len(plan.cards) <= MOST_FOR_THE_WEEK


def test_answers_after_the_day_looked_back_to_do_not_count():
    later = [
        Response(r.card, r.at + timedelta(days=30), r.seconds, True, r.played)
        for r in answers("landmark/treble/G4")
    ]
    assert of_piece(KITES, later).secured == 0


@pytest.mark.parametrize("name", SETS)
def test_every_head_of_a_piece_is_told_once(name):
    for score in (KITES, FENCE):
        piece = of_piece(score, landmarks=SETS[name])
        assert sum(n.count for n in piece.notes) == piece.heads == len(score.notes)
        assert sum(found.count for found in piece.ranges) == piece.heads


def test_the_readiest_piece_stands_first():
    knowledge = Knowledge([KITES, FENCE], FIVE, NOW, None)
    shelf = [ShelfPiece(s.title, knowledge.readiness(s)) for s in (FENCE, KITES)]
    assert [piece.name for piece in ranked(shelf)] == ["Two Kites", "Fence and Gate"]
