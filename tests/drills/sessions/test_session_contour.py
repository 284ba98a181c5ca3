"""A line of shapes played along: any keys, only the direction counts, move by move."""

import pytest

from drills.cards.card import parse_card
from drills.cards.help import Help
from drills.sessions.events import AskAgain, Hint, PianoFound, PianoLost, Tell
from drills.sessions.records import CardAskedRecord
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from tests.scripted_drill import TREBLE_G, PlayedDrill

LINE = parse_card("contour/treble/G4/one-line/up,stay,down")


def moves(drill):
    """The moves that were asked: the time each could be answered from, and its number."""
    return [(r.t, r.move) for r in drill.records if isinstance(r, CardAskedRecord)]


def test_a_line_is_played_on_any_keys_and_each_move_is_timed_from_the_one_before():
    drill = PlayedDrill(LINE, TREBLE_G)
    for key in (40, 47, 47, 41):
        drill.play(key, after=800)
    assert moves(drill) == [(0.0, 0), (800.0, 1), (1700.0, 2), (2600.0, 3)]
    assert [(a.move, a.verdict, a.played, a.ms, a.attempt, a.counted) for a in drill.answers] == [
        (1, "exact", 47, 900.0, 1, True),
        (2, "exact", 47, 900.0, 1, True),
        (3, "exact", 41, 900.0, 1, True),
    ]
    assert [(r.card, r.correct, r.seconds) for r in drill.planner.heard] == [(LINE, True, 0.9)] * 3
    assert drill.view.phase is Phase.RIGHT
    drill.go_on()
    assert drill.view.card == TREBLE_G
    assert moves(drill)[-1][1] is None


def test_the_first_key_answers_nothing():
    drill = PlayedDrill(LINE)
    drill.play(90)
    assert not drill.answers
    assert (drill.view.move, drill.view.last) == (1, 90)


@pytest.mark.parametrize(
    ("keys", "verdict"),
    [((60, 61), "exact"), ((60, 88), "exact"), ((60, 60), "direction"), ((60, 59), "direction")],
)
def test_only_the_direction_of_a_move_counts(keys, verdict):
    drill = PlayedDrill(LINE)
    for key in keys:
        drill.play(key)
    assert [a.verdict for a in drill.answers] == [verdict]


def test_a_wrong_way_is_shown_at_once_and_the_shape_before_stays_the_one_to_go_from():
    drill = PlayedDrill(LINE)
    drill.play(60)
    drill.play(57)
    view = drill.view
    assert (view.answer.verdict, view.answer.steps, view.help) == (
        Verdict.DIRECTION, -2, Help.NONE,
    )  # fmt: skip
    assert (view.move, view.last) == (1, 60)
    drill.play(62)
    assert [(a.move, a.verdict, a.attempt, a.hints, a.why_not) for a in drill.answers] == [
        (1, "direction", 1, 0, None),
        (1, "exact", 2, 0, "later attempt"),
    ]
    assert (drill.view.move, drill.view.help) == (2, Help.NONE)


def test_a_shape_missed_twice_shows_the_way_and_missed_three_times_lights_a_key():
    drill = PlayedDrill(LINE)
    drill.play(60)
    helped = []
    for _ in range(3):
        drill.play(57)
        helped.append(drill.view.help)
    assert helped == [Help.NONE, Help.LANDMARK, Help.KEY]


def test_repeated_shapes_ask_for_the_same_key():
    drill = PlayedDrill(LINE)
    for key in (60, 64, 65, 64):
        drill.play(key)
    assert [a.verdict for a in drill.answers] == ["exact", "direction", "exact"]


def test_two_keys_at_once_are_no_direction():
    drill = PlayedDrill(LINE)
    drill.play(60)
    drill.play(62, 64)
    assert [(a.verdict, a.why_not) for a in drill.answers] == [("cluster", "cluster")]
    assert drill.view.move == 1


def test_a_line_asked_again_begins_anew():
    drill = PlayedDrill(LINE)
    drill.play(60)
    drill.play(62)
    drill.feed(AskAgain())
    assert (drill.view.move, drill.view.last) == (0, None)


@pytest.mark.parametrize(("help_event", "shown"), [(Hint(), Help.LANDMARK), (Tell(), Help.KEY)])
def test_the_teacher_shows_the_way_of_one_move_and_only_that_one_is_not_counted(help_event, shown):
    drill = PlayedDrill(LINE)
    drill.play(60)
    drill.feed(help_event)
    assert drill.view.help is shown
    drill.play(62)
    drill.play(62)
    assert [(a.move, a.hints, a.why_not) for a in drill.answers] == [
        (1, int(shown), "helped"), (2, 0, None),
    ]  # fmt: skip


def test_a_lost_piano_spoils_the_move_it_was_lost_in_and_no_other():
    drill = PlayedDrill(LINE)
    drill.feed(PianoFound("upright", "driver", 0))
    drill.play(60)
    drill.feed(PianoLost("upright"))
    drill.play(62)
    drill.play(62)
    assert [(a.move, a.why_not) for a in drill.answers] == [(1, "piano lost"), (2, None)]
