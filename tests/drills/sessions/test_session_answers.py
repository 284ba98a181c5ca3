"""A pupil answers a card, and what she is shown for it."""

import pytest

from drills.cards.help import Help
from drills.learning.response import State
from drills.sessions.device_records import KeyMovedRecord
from drills.sessions.events import Begin, KeyPressed, KeyReleased
from drills.sessions.records import CardAskedRecord
from drills.sessions.timed_session import RIGHT_AFTER_HELP_MS, RIGHT_MS, SETTLE_MS
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from landmarks.pitch import Pitch
from tests.scripted_drill import (
    A_ABOVE_G,
    BASS_F,
    KEY_G,
    TREBLE_G,
    PlayedDrill,
    step,
)

G4, A4 = 67, 69  # MIDI 1.0: middle C is 60


def test_a_note_found_turns_to_ink_and_the_next_card_follows():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(G4)
    assert drill.view.phase is Phase.RIGHT
    assert drill.view.answer.verdict is Verdict.EXACT
    assert drill.view.card == TREBLE_G
    drill.wait(RIGHT_MS)
    assert drill.view.card == BASS_F
    assert (drill.view.phase, drill.view.answer) == (Phase.ASKED, None)


def test_a_note_found_is_drawn_in_ink_at_once_before_the_touch_has_settled():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(G4)
    assert drill.view.answer.verdict is Verdict.EXACT
    assert drill.view.phase is Phase.ASKED
    assert drill.answers == []


def test_a_note_is_looked_at_from_its_key_on_and_longer_after_a_slip():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.wait(1000)
    drill.press(G4)
    drill.wait(SETTLE_MS)
    assert drill.drill.due == 1000 + RIGHT_MS
    drill.go_on()
    drill.play(54)
    drill.wait(500)
    pressed = drill.t
    drill.press(53)
    drill.wait(SETTLE_MS)
    assert drill.drill.due == pressed + RIGHT_AFTER_HELP_MS


# A4 is one step above treble G: C3 stands there in the bass clef, F4 lies one step on the other
# side of treble G.
MISSES = {
    71: (Verdict.STEP, "B4", 1),
    67: (Verdict.STEP, "G4", -1),
    72: (Verdict.SKIP, "C5", 2),
    76: (Verdict.LEAP, "E5", 4),
    60: (Verdict.LEAP, "C4", -5),
    70: (Verdict.HALF_STEP, "A#4", 0),
    68: (Verdict.HALF_STEP, "Ab4", 0),
    57: (Verdict.OCTAVE, "A3", -7),
    81: (Verdict.OCTAVE, "A5", 7),
    48: (Verdict.CLEF, "C3", -12),
    65: (Verdict.DIRECTION, "F4", -2),
}


@pytest.mark.parametrize("key", MISSES)
def test_each_kind_of_miss_is_shown_where_it_lives_and_written_as_what_it_is(key):
    drill = PlayedDrill(A_ABOVE_G, BASS_F)
    drill.play(key)
    verdict, played, steps = MISSES[key]
    shown = drill.view.answer
    assert (shown.verdict, shown.played, shown.steps) == (verdict, Pitch.parse(played), steps)
    assert drill.view.phase is Phase.ASKED
    (written,) = drill.answers
    assert (written.verdict, written.played, written.counted) == (verdict, key, True)


@pytest.mark.parametrize("key", MISSES)
def test_after_any_miss_the_right_key_goes_on(key):
    drill = PlayedDrill(A_ABOVE_G, BASS_F)
    drill.play(key)
    drill.play(A4)
    assert drill.view.phase is Phase.RIGHT
    drill.go_on()
    assert drill.view.card == BASS_F


def test_the_right_key_goes_on_however_often_it_was_missed():
    drill = PlayedDrill(A_ABOVE_G, BASS_F)
    for _ in range(12):
        drill.play(71, after=400)
    assert drill.view.card == A_ABOVE_G
    drill.play(A4)
    assert drill.view.phase is Phase.RIGHT
    assert [answer.attempt for answer in drill.answers] == list(range(1, 14))


def test_a_second_miss_shows_the_landmark_beside_the_note_and_a_third_the_key():
    drill = PlayedDrill(A_ABOVE_G)
    helped = []
    for _ in range(4):
        drill.play(71)
        helped.append(drill.view.help)
    assert helped == [Help.NONE, Help.LANDMARK, Help.KEY, Help.KEY]
    assert drill.view.landmark == TREBLE_G
    assert [answer.hints for answer in drill.answers] == [0, 0, 1, 2]


def test_a_landmark_that_is_missed_is_told_by_its_own_look_and_its_key():
    drill = PlayedDrill(BASS_F)
    drill.play(55)
    drill.play(55)
    assert (drill.view.help, drill.view.landmark) == (Help.LANDMARK, None)
    drill.play(55)
    assert drill.view.help is Help.KEY


def test_a_step_card_shows_the_landmark_it_steps_from_and_no_nearer_one():
    drill = PlayedDrill(step("C5", "G4"))
    drill.play(74)
    drill.play(74)
    assert drill.view.landmark == TREBLE_G


def test_help_is_gone_with_the_next_card():
    drill = PlayedDrill(A_ABOVE_G, TREBLE_G)
    for _ in range(3):
        drill.play(71)
    drill.play(A4)
    drill.go_on()
    assert (drill.view.help, drill.view.landmark) == (Help.NONE, None)


def test_a_key_card_lights_its_key_from_the_start_and_that_is_no_hint():
    drill = PlayedDrill(KEY_G)
    assert drill.view.help is Help.KEY
    drill.play(69)
    assert (drill.view.help, drill.view.landmark) == (Help.KEY, None)
    drill.play(G4)
    assert drill.view.phase is Phase.RIGHT
    assert [answer.hints for answer in drill.answers] == [0, 0]


def test_what_a_key_would_show_is_foreseen_without_its_being_pressed():
    drill = PlayedDrill(A_ABOVE_G)
    before, effects = drill.view, len(drill.effects)
    for key in [*MISSES, A4]:
        foreseen = drill.drill.preview(key)
        assert (drill.view, len(drill.effects)) == (before, effects)
        played = PlayedDrill(A_ABOVE_G)
        played.wait(1000)
        played.press(key)
        assert foreseen == played.view


@pytest.mark.parametrize("state", State)
def test_a_card_is_drawn_as_far_as_it_is_the_pupils_own(state):
    assert PlayedDrill(TREBLE_G, state=state).view.state is state


def test_a_card_is_written_when_it_is_on_the_screen_and_only_once():
    drill = PlayedDrill(A_ABOVE_G, begun=False)
    drill.feed(Begin())
    assert drill.records == []
    drill.t = 31.25
    drill.look()
    drill.look()
    assert drill.records == [
        CardAskedRecord(
            t=31.25, id="step/treble/A4", kind="step", clef="treble", target=69, name="treble A"
        )
    ]


def test_every_key_down_and_up_is_written_with_its_velocity_and_channel():
    drill = PlayedDrill(TREBLE_G)
    drill.t = 812.3456
    drill.feed(KeyPressed(G4, 33, 7))
    drill.t = 901.5
    drill.feed(KeyReleased(G4, 12, 7))
    moved = [record for record in drill.records if isinstance(record, KeyMovedRecord)]
    assert moved == [
        KeyMovedRecord(t=812.346, key=G4, velocity=33, channel=7, on=True),
        KeyMovedRecord(t=901.5, key=G4, velocity=12, channel=7, on=False),
    ]


def test_the_keys_that_are_down_are_seen():
    drill = PlayedDrill(TREBLE_G)
    drill.press(60, 64)
    assert drill.view.held == {60, 64}
    drill.release(60)
    assert drill.view.held == {64}
