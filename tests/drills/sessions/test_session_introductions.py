"""Whoever knows no stave meets every landmark before it is asked."""

from drills.cards.help import Help
from drills.learning.response import State
from drills.sessions.effects import Answered
from tests.scripted_drill import A_ABOVE_G, BASS_F, TREBLE_G, PlayedDrill


def introduced(*cards):
    return PlayedDrill(*cards, state=State.NEW, introduces=True)


def test_a_landmark_is_shown_with_key_and_name_and_then_asked_without():
    drill = introduced(TREBLE_G, BASS_F)
    drill.look()
    assert (drill.view.card, drill.view.help) == (TREBLE_G, Help.NAME)
    drill.play(67)
    drill.go_on()
    assert (drill.view.card, drill.view.help) == (TREBLE_G, Help.NONE)
    drill.play(67)
    answers = [each for each in drill.effects if isinstance(each, Answered)]
    assert [each.why_not for each in answers] == ["helped", None]
    drill.go_on()
    assert (drill.view.card, drill.view.help) == (BASS_F, Help.NAME)


def test_a_landmark_is_introduced_once_a_session_and_a_step_never():
    drill = introduced(TREBLE_G, TREBLE_G, A_ABOVE_G)
    for help_ in (Help.NAME, Help.NONE, Help.NONE):
        drill.look()
        assert (drill.view.card, drill.view.help) == (TREBLE_G, help_)
        drill.play(67)
        drill.go_on()
    assert (drill.view.card, drill.view.help) == (A_ABOVE_G, Help.NONE)


def test_without_need_nothing_is_introduced():
    drill = PlayedDrill(TREBLE_G, state=State.NEW)
    drill.look()
    assert drill.view.help is Help.NONE
