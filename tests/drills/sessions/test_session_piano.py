"""Pianos that are found and lost, and the piano whose middle C is not where it should be."""

import pytest

from drills.cards.card import Kind
from drills.cards.help import Help
from drills.sessions.device_records import PianoChangedRecord
from drills.sessions.effects import RememberPiano
from drills.sessions.events import Begin, KeyReleased, PianoFound, PianoLost, Stop
from drills.sessions.piano_state import MIDDLE_C_CARD
from drills.sessions.records import CardAskedRecord
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from tests.scripted_drill import BASS_F, TREBLE_G, PlayedDrill

G4, MIDDLE_C = 67, 60


def with_piano(shift, *cards):
    """A session that begins with a piano of that shift, None if it is not known."""
    drill = PlayedDrill(*cards, begun=False)
    drill.feed(PianoFound("upright", "driver", shift))
    drill.feed(Begin())
    drill.look()
    return drill


def changes(drill):
    return [(r.change, r.port, r.shift) for r in drill.records if isinstance(r, PianoChangedRecord)]


def test_a_piano_never_seen_before_is_asked_for_middle_c_first():
    drill = with_piano(None, TREBLE_G)
    assert drill.view.tuning
    assert drill.view.card == MIDDLE_C_CARD
    assert (drill.view.card.kind, drill.view.help) == (Kind.KEY, Help.KEY)
    assert [r.id for r in drill.records if isinstance(r, CardAskedRecord)] == ["key/treble/C4"]


def test_middle_c_where_it_belongs_sets_no_shift_and_is_remembered():
    drill = with_piano(None, TREBLE_G)
    drill.play(MIDDLE_C)
    assert drill.remembered == [RememberPiano("upright", 0)]
    assert changes(drill) == [("found", "upright", None), ("tuned", "upright", 0)]
    drill.go_on()
    assert (drill.view.card, drill.view.tuning) == (TREBLE_G, False)
    drill.play(G4)
    assert drill.view.phase is Phase.RIGHT


@pytest.mark.parametrize("shift", [12, -12, 2, -3, 24, -24])
def test_the_same_other_key_twice_puts_the_piano_right(shift):
    drill = with_piano(None, TREBLE_G)
    drill.play(MIDDLE_C + shift)
    assert drill.view.tuning_again
    assert drill.remembered == []
    drill.play(MIDDLE_C + shift)
    assert drill.view.phase is Phase.RIGHT
    assert drill.remembered == [RememberPiano("upright", shift)]
    drill.go_on()
    drill.play(G4 + shift)
    assert drill.view.phase is Phase.RIGHT
    last = drill.answers[-1]
    assert (last.verdict, last.played, last.counted) == (Verdict.EXACT, G4, True)


def test_a_slip_before_middle_c_leaves_the_piano_as_it_is():
    drill = with_piano(None, TREBLE_G)
    drill.play(62)
    drill.play(MIDDLE_C)
    assert drill.remembered == [RememberPiano("upright", 0)]


def test_two_keys_in_one_touch_say_nothing_about_middle_c():
    drill = with_piano(None, TREBLE_G)
    drill.play(59, 60)
    drill.play(59, 60)
    assert drill.view.phase is Phase.ASKED
    assert drill.view.tuning_again
    assert drill.remembered == []
    drill.play(60)
    assert drill.remembered == [RememberPiano("upright", 0)]


def test_no_answer_to_the_question_for_middle_c_counts():
    drill = with_piano(None, TREBLE_G)
    drill.play(58)
    drill.play(57, 58)
    drill.play(58)
    drill.play(58)
    assert {a.why_not for a in drill.answers} == {"tuning"}
    assert [a.attempt for a in drill.answers] == [1, 2, 3]
    assert (drill.answers[-1].verdict, drill.answers[-1].played) == (Verdict.EXACT, MIDDLE_C)
    assert drill.planner.heard == []


def test_keys_held_while_the_piano_is_put_right_are_let_up():
    drill = with_piano(None, TREBLE_G)
    drill.play(72)
    drill.wait(500)
    drill.press(72)
    drill.wait(100)
    assert drill.view.held == {60}
    drill.feed(KeyReleased(72))
    assert drill.view.held == set()


@pytest.mark.parametrize("shift", [0, 12, -5])
def test_a_remembered_shift_is_used_at_once(shift):
    drill = with_piano(shift, TREBLE_G)
    assert drill.view.card == TREBLE_G
    assert not drill.view.tuning
    drill.play(G4 + shift)
    assert (drill.answers[0].verdict, drill.answers[0].counted) == (Verdict.EXACT, True)
    assert changes(drill) == [("found", "upright", shift)]


def test_the_file_keeps_the_keys_as_the_piano_sent_them():
    drill = with_piano(12, TREBLE_G)
    drill.play(G4 + 12)
    assert [r.key for r in drill.records if hasattr(r, "on")] == [G4 + 12, G4 + 12]
    assert drill.answers[0].played == G4


def test_a_key_that_a_shifted_piano_could_not_have_is_only_logged():
    drill = with_piano(12, TREBLE_G)
    drill.play(5)
    assert drill.answers == []
    assert drill.view.held == set()


def test_a_lost_piano_leaves_the_card_waiting_with_no_key_down():
    drill = with_piano(0, TREBLE_G)
    drill.press(72)
    drill.feed(PianoLost("upright"))
    assert drill.view.piano_lost
    assert drill.view.card == TREBLE_G
    assert drill.view.held == set()
    drill.feed(PianoFound("upright", "driver", 0))
    assert not drill.view.piano_lost
    assert drill.view.card == TREBLE_G
    assert [change for change, _, _ in changes(drill)] == ["found", "lost", "found"]


def test_the_loss_of_a_piano_that_is_not_played_is_no_loss():
    drill = with_piano(0, TREBLE_G)
    drill.feed(PianoLost("another"))
    assert not drill.view.piano_lost
    assert changes(drill) == [("found", "upright", 0)]


def test_a_piano_lost_while_the_found_note_is_looked_at_does_not_hold_up_the_next_card():
    drill = with_piano(0, TREBLE_G, BASS_F)
    drill.play(G4)
    drill.feed(PianoLost("upright"))
    assert drill.view.phase is Phase.RIGHT
    drill.go_on()
    assert (drill.view.card, drill.view.piano_lost) == (BASS_F, True)
    drill.play(53)
    assert [a.counted for a in drill.answers] == [True, True]


def test_the_shift_of_a_lost_piano_is_not_put_on_the_keys_of_the_screen():
    drill = with_piano(12, TREBLE_G)
    drill.feed(PianoLost("upright"))
    drill.play(G4)
    assert drill.answers[0].verdict is Verdict.EXACT


def test_a_strange_piano_found_in_mid_card_is_asked_for_middle_c_before_the_card_goes_on():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.wait(2000)
    drill.feed(PianoFound("upright", "driver", None))
    assert drill.view.tuning
    drill.look()
    drill.play(72)
    drill.play(72)
    drill.go_on()
    assert drill.view.card == TREBLE_G
    drill.play(G4 + 12)
    drill.go_on()
    assert drill.view.card == BASS_F
    drill.play(53 + 12)
    told = [(a.id, a.verdict, a.why_not) for a in drill.answers]
    assert told[-2:] == [
        ("landmark/treble/G4", "exact", "piano found"),
        ("landmark/bass/F3", "exact", None),
    ]


def test_a_card_put_aside_before_it_was_on_the_screen_counts_when_it_comes_back():
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.feed(Begin())
    drill.feed(PianoFound("upright", "driver", None))
    drill.look()
    drill.play(MIDDLE_C)
    drill.go_on()
    drill.play(G4)
    assert (drill.view.card, drill.answers[-1].counted) == (TREBLE_G, True)


def test_a_strange_piano_found_while_a_note_is_looked_at_is_asked_after_it():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(G4)
    drill.feed(PianoFound("upright", "driver", None))
    assert drill.view.phase is Phase.RIGHT
    drill.go_on()
    assert drill.view.tuning
    drill.play(MIDDLE_C)
    drill.go_on()
    assert drill.view.card == BASS_F


def test_a_touch_in_the_making_is_judged_before_a_new_piano_changes_its_keys():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.wait(1000)
    drill.press(G4)
    drill.feed(PianoFound("upright", "driver", 12))
    assert [(a.verdict, a.counted) for a in drill.answers] == [(Verdict.EXACT, True)]


def test_a_piano_lost_while_it_is_asked_for_middle_c_is_not_asked_any_more():
    drill = with_piano(None, TREBLE_G)
    drill.play(72)
    drill.feed(PianoLost("upright"))
    assert (drill.view.card, drill.view.tuning) == (TREBLE_G, False)
    assert drill.view.piano_lost
    drill.look()
    drill.play(G4)
    assert drill.answers[-1].counted
    drill.feed(PianoFound("upright", "driver", None))
    drill.go_on()
    assert drill.view.tuning
    drill.play(72)
    assert drill.remembered == []  # what was pressed before the loss is forgotten


def test_a_piano_put_right_in_the_last_touch_of_a_session_is_remembered():
    drill = with_piano(None, TREBLE_G)
    drill.wait(1000)
    drill.press(MIDDLE_C)
    drill.feed(Stop())
    assert drill.remembered == [RememberPiano("upright", 0)]
    assert drill.view.phase is Phase.FINISHED
