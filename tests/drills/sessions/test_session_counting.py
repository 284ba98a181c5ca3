"""Which answers count, why the others do not, and what the planner hears."""

from datetime import timedelta

import pytest

from drills.learning.response import Response
from drills.sessions.counting import PAUSE_MS
from drills.sessions.events import PianoFound, PianoLost, Stop
from drills.sessions.records import EndedRecord
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from tests.scripted_drill import BASS_F, KEY_G, STARTED, TREBLE_G, PlayedDrill

G4 = 67


def why_not(drill):
    return [answer.why_not for answer in drill.answers]


def test_the_planner_hears_the_first_answer_with_its_time_and_its_key():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(69, after=1500)
    drill.play(G4)
    drill.go_on()
    shown = drill.t
    drill.play(53, after=2250)
    assert drill.planner.heard == [
        Response(TREBLE_G, STARTED + timedelta(milliseconds=1500), 1.5, False, 69),
        Response(BASS_F, STARTED + timedelta(milliseconds=shown + 2250), 2.25, True, 53),
    ]


def test_later_attempts_are_kept_and_not_counted():
    drill = PlayedDrill(TREBLE_G)
    drill.play(69)
    drill.play(65)
    drill.play(G4)
    assert why_not(drill) == [None, "later attempt", "later attempt"]
    assert [answer.counted for answer in drill.answers] == [True, False, False]
    assert [answer.attempt for answer in drill.answers] == [1, 2, 3]


@pytest.mark.parametrize(
    ("after", "reason"), [(PAUSE_MS, None), (PAUSE_MS + 0.001, "pause"), (600_000, "pause")]
)
def test_an_answer_after_a_pause_is_kept_and_not_counted(after, reason):
    drill = PlayedDrill(TREBLE_G)
    drill.play(G4, after=after)
    assert why_not(drill) == [reason]
    assert len(drill.planner.heard) == (reason is None)
    assert drill.view.phase is Phase.RIGHT


def test_a_card_during_which_the_piano_was_lost_is_kept_and_not_counted():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.feed(PianoFound("upright", "driver", 0))
    drill.play(G4)
    drill.go_on()
    drill.feed(PianoLost("upright"))
    drill.play(53)
    assert why_not(drill)[-1] == "piano lost"
    assert drill.view.phase is Phase.RIGHT


def test_a_touch_that_was_made_before_the_piano_was_lost_still_counts():
    drill = PlayedDrill(KEY_G, BASS_F)
    drill.play(G4)
    drill.feed(PianoFound("upright", "driver", 0))
    drill.go_on()
    drill.wait(1000)
    drill.press(53)
    drill.feed(PianoLost("upright"))
    assert [answer.counted for answer in drill.answers] == [True, True]
    assert drill.view.phase is Phase.RIGHT


def test_a_card_during_which_a_piano_was_plugged_in_is_kept_and_not_counted():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(500)
    drill.feed(PianoFound("upright", "driver", 0))
    drill.play(G4)
    assert why_not(drill) == ["piano found"]
    assert drill.planner.heard == []


def test_the_card_after_an_interrupted_one_counts_again():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.feed(PianoFound("upright", "driver", 0))
    drill.play(G4)
    drill.go_on()
    drill.play(53)
    assert why_not(drill) == ["piano found", None]


def test_every_kind_of_uncounted_answer_is_written_and_the_planner_hears_exactly_the_others():
    drill = PlayedDrill(TREBLE_G, BASS_F, TREBLE_G, BASS_F, KEY_G)
    drill.play(G4, after=100)
    drill.go_on()
    drill.play(51, 53, 55)
    drill.play(53)
    drill.go_on()
    drill.play(G4, after=40_000)
    drill.go_on()
    drill.play(52, 53)
    drill.go_on()
    drill.play(G4)
    assert why_not(drill) == [
        "too soon", "cluster", "later attempt", "pause", "brushed", None, None,
    ]  # fmt: skip
    counted = [(a.id, a.played, a.ms / 1000) for a in drill.answers if a.counted]
    assert [(r.card.id, r.played, r.seconds) for r in drill.planner.heard] == counted


def test_the_session_ends_when_the_planner_has_nothing_more_to_ask():
    drill = PlayedDrill(TREBLE_G)
    drill.play(G4)
    drill.wait(5000)
    assert drill.view.phase is Phase.FINISHED
    assert drill.records[-1] == EndedRecord(t=1000 + 900, why="done")
    assert drill.drill.due is None


def test_stop_in_the_middle_of_a_touch_judges_the_touch_first():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(G4)
    drill.t += 10
    drill.feed(Stop())
    assert [(a.verdict, a.counted) for a in drill.answers] == [(Verdict.EXACT, True)]
    assert len(drill.planner.heard) == 1
    assert drill.records[-1] == EndedRecord(t=1010, why="stopped")
    assert drill.drill.due is None


def test_stop_without_a_touch_only_ends_the_session():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(400)
    drill.feed(Stop("closed"))
    assert drill.answers == []
    assert drill.records[-1] == EndedRecord(t=400, why="closed")
    assert drill.view.phase is Phase.FINISHED
