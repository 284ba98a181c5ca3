"""Keys found by name or by their place, and steps from a landmark that is shown."""

import pytest

from drills.cards.card import parse_card
from drills.cards.help import Help
from drills.sessions.events import Hint, Tell
from landmarks.pitch import Pitch
from tests.scripted_drill import BASS_F, PlayedDrill

D_BY_NAME = parse_card("key/treble/D4/name")
D_BY_PLACE = parse_card("key/treble/D4/place")
A_BESIDE_G = parse_card("step/treble/A4/beside-G4")

BOTH = pytest.mark.parametrize("card", [D_BY_NAME, D_BY_PLACE])


@BOTH
@pytest.mark.parametrize("key", [26, 38, 50, 62, 74, 98])
def test_a_key_of_that_name_is_right_in_every_octave(card, key):
    drill = PlayedDrill(card)
    drill.play(key)
    assert [(a.verdict, a.counted) for a in drill.answers] == [("exact", True)]


# Distances counted by hand on the keyboard.
@BOTH
@pytest.mark.parametrize(
    ("key", "verdict", "steps"),
    [(64, "step", 1), (77, "skip", 2), (48, "step", -1), (47, "skip", -2), (61, "half-step", 0),
     (79, "leap", 3)],
)  # fmt: skip
def test_a_wrong_key_shows_its_distance_from_the_nearest_right_one(card, key, verdict, steps):
    drill = PlayedDrill(card)
    drill.play(key)
    assert (drill.view.answer.verdict, drill.view.answer.steps) == (verdict, steps)


@BOTH
def test_the_key_is_not_lit_before_two_misses_or_a_hint(card):
    drill = PlayedDrill(card)
    assert drill.view.help is Help.NONE
    drill.play(60)
    assert drill.view.help is Help.NONE
    drill.play(60)
    assert drill.view.help is Help.KEY
    drill.play(62)
    assert [(a.hints, a.attempt) for a in drill.answers] == [(0, 1), (0, 2), (2, 3)]


@BOTH
@pytest.mark.parametrize("help_event", [Hint(), Tell()])
def test_the_teacher_can_light_the_key(card, help_event):
    drill = PlayedDrill(card)
    drill.feed(help_event)
    assert drill.view.help is Help.KEY
    drill.play(62)
    assert [a.why_not for a in drill.answers] == ["helped"]


@BOTH
def test_a_neighbour_brushed_in_another_octave_is_known_as_such(card):
    drill = PlayedDrill(card)
    drill.play(76, 74)
    assert [a.verdict for a in drill.answers] == ["brushed", "exact"]


def test_a_landmark_shown_beside_its_step_is_there_from_the_start_and_is_no_hint():
    drill = PlayedDrill(A_BESIDE_G, BASS_F)
    assert (drill.view.help, drill.view.landmark.target) == (Help.LANDMARK, Pitch.parse("G4"))
    drill.play(69)
    assert [(a.verdict, a.hints, a.counted) for a in drill.answers] == [("exact", 0, True)]
    drill.go_on()
    assert (drill.view.help, drill.view.landmark) == (Help.NONE, None)


def test_a_step_taken_the_other_way_from_the_landmark_shown_is_known_as_such():
    drill = PlayedDrill(A_BESIDE_G)
    for key in (65, 65, 65):
        drill.play(key)
    assert [(a.verdict, a.hints) for a in drill.answers] == [("direction", 0)] * 3
    assert drill.view.help is Help.KEY
