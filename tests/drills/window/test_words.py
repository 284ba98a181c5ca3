"""The few words under a card."""

import pytest

from drills.cards.card import Card, Kind
from drills.cards.help import Help
from drills.sessions.view import Phase, View
from drills.window.pages.card_words import Remark, remark, way_to_go
from landmarks.answer import Answer, Verdict, judge
from landmarks.names import FIXED_DO, GERMAN, LETTER
from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, TREBLE
from tests.scripted_drill import A_ABOVE_G, BASS_F, KEY_G, TREBLE_G, landmark, step


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
    assert said(TREBLE_G, 69) == Remark("too high – 1 step down", "you played A")
    assert said(TREBLE_G, 64) == Remark("too low – 2 steps up", "you played E")
    assert said(BASS_F, 60) == Remark("too high – 4 steps down", "you played C")
    assert said(TREBLE_G, 66) == Remark("too low – the next key up", "you played G♭")
    assert said(TREBLE_G, 68) == Remark("too high – the next key down", "you played G♯")


def test_the_wrong_octave_is_told_as_the_right_name():
    assert said(TREBLE_G, 79) == Remark("right name – 1 octave down", "you played G")
    assert said(TREBLE_G, 43) == Remark("right name – 2 octaves up", "you played G")


def test_beyond_an_octave_the_octaves_are_told_and_no_steps_counted():
    assert said(TREBLE_G, 96) == Remark("too high – about 2 octaves down", "you played C")
    assert said(BASS_F, 40) == Remark("too low – about 1 octave up", "you played E")


def test_from_the_second_miss_the_steps_are_counted_from_the_landmark_alone():
    far = step("F5", "C5")
    assert said(far, 64, help=Help.LANDMARK, landmark=landmark("C5")) == Remark(
        "3 steps up from treble C", "you played E"
    )
    below = step("E3", "F3", BASS)
    beside = Card(Kind.LANDMARK, BASS, below.anchor, below.anchor)
    assert said(below, 55, help=Help.KEY, landmark=beside).headline == "1 step down from bass F"


def test_a_landmark_that_was_missed_twice_is_told_by_its_look():
    assert said(TREBLE_G, 69, help=Help.LANDMARK) == Remark(
        "the line that the clef curls around", "you played A"
    )
    assert said(BASS_F, 60, help=Help.LANDMARK).headline == "the line between the two dots"
    assert said(landmark("C5"), 74, help=Help.LANDMARK).headline == "the third space"
    assert said(landmark("C4"), 62, help=Help.LANDMARK).headline == (
        "a short line of its own, below"
    )


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
    assert said(KEY_G, 65) == Remark("too low – 1 step up", "press this key")


def test_a_piano_to_be_put_right_is_asked_for_middle_c():
    card = Card(Kind.KEY, TREBLE, MIDDLE_C, MIDDLE_C)
    detail = "so that the piano and the screen agree"
    assert remark(View(card=card, tuning=True), LETTER) == Remark("press middle C", detail)
    again = View(card=card, tuning=True, tuning_again=True)
    assert remark(again, LETTER) == Remark("middle C once more", detail)


def test_a_lost_piano_is_looked_for_until_the_card_is_answered():
    assert remark(View(card=TREBLE_G, piano_lost=True), LETTER).headline == "where is the piano?"
    assert said(TREBLE_G, 69, piano_lost=True).headline == "too high – 1 step down"


# Notes of a piece may bear signs.
@pytest.mark.parametrize(
    ("target", "key", "words"),
    [
        ("Bb4", 71, "too high – the next key down"), ("Bb4", 69, "too low – 1 step up"),
        ("F#4", 65, "too low – the next key up"), ("F#4", 67, "too high – 1 step down"),
        ("Ab3", 57, "too high – the next key down"), ("Db4", 63, "too high – 2 keys down"),
        ("C#4", 59, "too low – 1 step up"), ("Eb4", 75, "right name – 1 octave down"),
    ],
)  # fmt: skip
def test_beside_a_sharp_or_a_flat_the_side_is_that_of_the_key(target, key, words):
    pitch = Pitch.parse(target)
    assert way_to_go(judge(pitch, TREBLE, key), pitch) == words


@pytest.mark.parametrize("naming", [LETTER, FIXED_DO, GERMAN])
@pytest.mark.parametrize("clef", [TREBLE, BASS])
def test_whatever_key_is_pressed_something_short_is_said_that_points_the_right_way(naming, clef):
    for pitch in (clef.pitch_at(place) for place in range(-8, 17)):
        card = Card(Kind.LANDMARK, clef, pitch, pitch)
        for key in range(21, 109):
            words = said(card, key, naming)
            assert 0 < len(words.headline) <= 34
            if key > pitch.midi:
                assert not words.headline.endswith(" up")
                assert "too low" not in words.headline
            if key < pitch.midi:
                assert not words.headline.endswith(" down")
                assert "too high" not in words.headline
