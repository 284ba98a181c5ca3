"""The few words under a card."""

import pytest

from drills.cards.card import Card, Kind
from drills.sessions.view import Phase, View
from drills.window.pages.card_words import Remark, distance, remark
from landmarks.answer import Answer, Verdict, judge
from landmarks.names import FIXED_DO, GERMAN, LETTER
from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, TREBLE
from tests.scripted_drill import A_ABOVE_G, BASS_F, KEY_G, TREBLE_G, step


def said(card, key, naming=LETTER, **seen):
    anchor = card.anchor if card.steps else None
    answer = judge(card.target, card.clef, key, anchor)
    return remark(View(card=card, answer=answer, **seen), naming)


def test_a_card_that_is_asked_says_nothing_since_the_note_is_the_question():
    assert remark(View(card=TREBLE_G), LETTER) == Remark("", "")


def test_a_note_that_was_found_is_named():
    assert said(TREBLE_G, 67) == Remark("treble G")
    assert said(TREBLE_G, 67, phase=Phase.RIGHT) == Remark("treble G")
    assert said(BASS_F, 53, FIXED_DO) == Remark("bass fa")
    assert said(step("B4", "C5"), 71, GERMAN) == Remark("treble H")


def test_a_wrong_key_is_told_by_its_distance_its_direction_and_its_name():
    assert said(TREBLE_G, 69) == Remark("1 step above", "you played A")
    assert said(TREBLE_G, 64) == Remark("2 steps below", "you played E")
    assert said(BASS_F, 60) == Remark("4 steps above", "you played C")
    assert said(TREBLE_G, 66) == Remark("half a step below", "you played G♭")
    assert said(TREBLE_G, 68) == Remark("half a step above", "you played G♯")


def test_the_wrong_octave_is_told_as_the_right_name():
    assert said(TREBLE_G, 79) == Remark("right name, 1 octave above", "you played G")
    assert said(TREBLE_G, 43) == Remark("right name, 2 octaves below", "you played G")


def test_the_other_clef_is_told_by_the_clef_to_look_at():
    assert said(TREBLE_G, 47) == Remark(
        "look: treble clef", "in the bass clef it would be your note"
    )
    assert said(BASS_F, 74) == Remark("look: bass clef", "in the treble clef it would be your note")


def test_a_step_the_wrong_way_is_told_by_the_way_from_its_landmark():
    assert said(A_ABOVE_G, 65) == Remark("go up from treble G", "you played F")
    assert said(step("E3", "F3", BASS), 55) == Remark("go down from bass F", "you played G")


def test_several_keys_at_once_are_told_as_that():
    answer = Answer(Verdict.CLUSTER, Pitch.parse("F4"), -1)
    view = View(card=TREBLE_G, answer=answer)
    assert remark(view, LETTER) == Remark("one key at a time")


def test_a_key_that_is_lit_is_asked_for_and_a_wrong_one_told_by_its_distance():
    assert remark(View(card=KEY_G), LETTER) == Remark("press this key")
    assert said(KEY_G, 65) == Remark("1 step below", "press this key")


def test_a_piano_to_be_put_right_is_asked_for_middle_c():
    card = Card(Kind.KEY, TREBLE, MIDDLE_C, MIDDLE_C)
    detail = "so that the piano and the screen agree"
    assert remark(View(card=card, tuning=True), LETTER) == Remark("press middle C", detail)
    again = View(card=card, tuning=True, tuning_again=True)
    assert remark(again, LETTER) == Remark("middle C once more", detail)


def test_a_lost_piano_is_looked_for_until_the_card_is_answered():
    assert remark(View(card=TREBLE_G, piano_lost=True), LETTER).headline == "where is the piano?"
    assert said(TREBLE_G, 69, piano_lost=True).headline == "1 step above"


# Notes of a piece may bear signs.
@pytest.mark.parametrize(
    ("target", "key", "words"),
    [
        ("Bb4", 71, "half a step above"), ("Bb4", 69, "1 step below"),
        ("F#4", 65, "half a step below"), ("F#4", 67, "1 step above"),
        ("Ab3", 57, "half a step above"), ("Db4", 63, "2 half steps above"),
        ("C#4", 59, "1 step below"), ("Eb4", 75, "right name, 1 octave above"),
    ],
)  # fmt: skip
def test_beside_a_sharp_or_a_flat_the_side_is_that_of_the_key(target, key, words):
    pitch = Pitch.parse(target)
    assert distance(judge(pitch, TREBLE, key), pitch) == words


@pytest.mark.parametrize("naming", [LETTER, FIXED_DO, GERMAN])
@pytest.mark.parametrize("clef", [TREBLE, BASS])
def test_whatever_key_is_pressed_something_short_is_said_that_points_the_right_way(naming, clef):
    for pitch in (clef.pitch_at(place) for place in range(-8, 17)):
        card = Card(Kind.LANDMARK, clef, pitch, pitch)
        for key in range(21, 109):
            words = said(card, key, naming)
            assert 0 < len(words.headline) <= 30
            if key > pitch.midi:
                assert "below" not in words.headline.removesuffix("below middle C")
            if key < pitch.midi:
                assert "above" not in words.headline
