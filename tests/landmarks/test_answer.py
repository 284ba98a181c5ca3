"""What a pressed key says about how the note was read."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from landmarks.answer import Verdict, brushes, judge, spelled_beside
from landmarks.pitch import Pitch, is_black
from landmarks.stave import BASS, CLEFS, TREBLE, other_clef

naturals = st.builds(Pitch, st.integers(5, 56))
signed = st.builds(Pitch, st.integers(5, 56), st.integers(-1, 1))
targets = st.builds(Pitch, st.integers(5, 56), st.integers(-2, 2))
clefs = st.sampled_from([TREBLE, BASS])
keys = st.integers(21, 108)
no_landmark_or_one = st.none() | naturals


def answered(target, clef, pressed, anchor=None):
    """The verdict, the spelling and the steps of an answer, all told by note names."""
    key = pressed if isinstance(pressed, int) else Pitch.parse(pressed).midi
    anchor = None if anchor is None else Pitch.parse(anchor)
    answer = judge(Pitch.parse(target), CLEFS[clef], key, anchor)
    return answer.verdict.value, str(answer.played), answer.steps


def test_the_right_key_is_exact_however_the_note_is_spelled():
    assert answered("G4", "treble", 67) == ("exact", "G4", 0)
    assert answered("F#3", "bass", 54) == ("exact", "F#3", 0)
    assert answered("Gb3", "bass", 54) == ("exact", "Gb3", 0)
    assert answered("Cb4", "bass", 59) == ("exact", "Cb4", 0)


def test_the_next_line_or_space_is_a_step_and_the_one_after_it_a_skip():
    assert answered("G4", "treble", "A4") == ("step", "A4", 1)
    assert answered("G4", "treble", "F4") == ("step", "F4", -1)
    assert answered("G4", "treble", "B4") == ("skip", "B4", 2)
    assert answered("G4", "treble", "E4") == ("skip", "E4", -2)
    assert answered("G4", "treble", "C4") == ("leap", "C4", -4)


def test_a_step_from_e_to_f_is_a_step_although_no_black_key_lies_between():
    assert answered("E4", "treble", "F4") == ("step", "F4", 1)
    assert answered("C4", "treble", "B3") == ("step", "B3", -1)


def test_the_black_key_beside_the_right_white_one_is_a_half_step_on_the_same_line():
    assert answered("G4", "treble", 68) == ("half-step", "G#4", 0)
    assert answered("G4", "treble", 66) == ("half-step", "Gb4", 0)
    assert answered("E4", "treble", 63) == ("half-step", "Eb4", 0)


def test_a_forgotten_sharp_or_flat_is_a_half_step_on_the_same_line():
    assert answered("F#4", "treble", "F4") == ("half-step", "F4", 0)
    assert answered("Bb3", "bass", "B3") == ("half-step", "B3", 0)
    assert answered("E#4", "treble", "E4") == ("half-step", "E4", 0)
    assert answered("Cb5", "treble", "C5") == ("half-step", "C5", 0)


def test_a_flat_read_as_a_sharp_stays_on_its_line():
    assert answered("Ab4", "treble", 70) == ("half-step", "A#4", 0)
    assert answered("A#4", "treble", 68) == ("half-step", "Ab4", 0)


def test_a_single_sharp_for_a_double_one_stays_on_its_line():
    assert answered("F##4", "treble", 66) == ("half-step", "F#4", 0)
    assert answered("Bbb4", "treble", 70) == ("half-step", "Bb4", 0)


def test_from_a_black_key_the_white_key_of_the_next_letter_is_a_step():
    assert answered("F#4", "treble", "G4") == ("step", "G4", 1)
    assert answered("Bb3", "bass", "A3") == ("step", "A3", -1)
    assert answered("F#4", "treble", 68) == ("step", "G#4", 1)
    assert answered("Bb4", "treble", 68) == ("step", "Ab4", -1)


def test_the_right_letter_in_another_octave_is_an_octave_slip_of_seven_steps():
    assert answered("C4", "treble", "C5") == ("octave", "C5", 7)
    assert answered("C4", "bass", "C3") == ("octave", "C3", -7)
    assert answered("G4", "treble", "G2") == ("octave", "G2", -14)


def test_an_octave_slip_keeps_the_sign_of_the_note_asked_for():
    assert answered("F#4", "treble", 54) == ("octave", "F#3", -7)
    assert answered("Bb3", "bass", 70) == ("octave", "Bb4", 7)
    assert answered("E#4", "treble", 77) == ("octave", "E#5", 7)
    assert answered("Cb4", "bass", 47) == ("octave", "Cb3", -7)


# Common practice, no source: a place in the treble clef is two letters higher in the bass clef
# (treble E is bass G), and the bass clef sounds lower.
def test_a_place_read_in_the_other_clef_is_a_clef_slip():
    assert answered("E4", "treble", "G2") == ("clef", "G2", -12)
    assert answered("G4", "treble", "B2") == ("clef", "B2", -12)
    assert answered("G2", "bass", "E4") == ("clef", "E4", 12)
    assert answered("F3", "bass", "D5") == ("clef", "D5", 12)


def test_middle_c_has_another_clef_twin_on_each_stave():
    assert answered("C4", "treble", "E2") == ("clef", "E2", -12)
    assert answered("C4", "bass", "A5") == ("clef", "A5", 12)
    assert answered("C4", "treble", "A5") == ("leap", "A5", 12)


def test_the_clef_twins_letter_in_another_octave_is_no_clef_slip():
    assert answered("G4", "treble", "B4") == ("skip", "B4", 2)
    assert answered("G4", "treble", "B3") == ("leap", "B3", -5)


def test_a_sharpened_note_has_its_clef_twin_with_and_without_the_sharp():
    assert answered("F#4", "treble", "A2") == ("clef", "A2", -12)
    assert answered("F#4", "treble", 46) == ("clef", "A#2", -12)
    assert answered("Bb3", "bass", "G5") == ("clef", "G5", 12)
    assert answered("Bb3", "bass", 78) == ("clef", "Gb5", 12)


def test_as_far_on_the_landmarks_other_side_is_a_slip_of_direction():
    assert answered("A4", "treble", "F4", anchor="G4") == ("direction", "F4", -2)
    assert answered("E3", "bass", "G3", anchor="F3") == ("direction", "G3", 2)
    assert answered("B4", "treble", "E4", anchor="G4") == ("direction", "E4", -4)


def test_without_a_landmark_there_is_no_direction_to_mistake():
    assert answered("A4", "treble", "F4") == ("skip", "F4", -2)
    assert answered("B4", "treble", "E4") == ("leap", "E4", -4)


def test_the_landmark_itself_in_place_of_its_neighbour_is_a_step():
    assert answered("A4", "treble", "G4", anchor="G4") == ("step", "G4", -1)


def test_a_landmark_card_knows_no_direction():
    assert answered("G4", "treble", "A4", anchor="G4") == ("step", "A4", 1)
    assert answered("G4", "treble", "F4", anchor="G4") == ("step", "F4", -1)


def test_a_forgotten_sharp_on_the_landmarks_own_line_is_no_slip_of_direction():
    assert answered("F#3", "bass", "F3", anchor="F3") == ("half-step", "F3", 0)
    assert answered("Gb4", "treble", "G4", anchor="G4") == ("half-step", "G4", 0)


def test_a_sharpened_neighbour_is_mistaken_for_the_white_key_on_the_other_side():
    assert answered("F#4", "treble", "A4", anchor="G4") == ("direction", "A4", 2)


def test_seven_steps_the_wrong_way_are_two_octaves_and_told_as_direction():
    assert answered("C5", "treble", "C3", anchor="C4") == ("direction", "C3", -14)


def test_six_steps_the_wrong_way_reach_the_clef_twin_and_are_told_as_direction():
    # B4 lies six steps above middle C; D3 lies six below it, and is the middle line in bass.
    assert answered("B4", "treble", "D3", anchor="C4") == ("direction", "D3", -12)
    assert answered("B4", "treble", "D3", anchor="G4") == ("clef", "D3", -12)


@given(targets, clefs, keys, no_landmark_or_one)
def test_an_answer_is_exact_if_and_only_if_the_right_key_was_pressed(target, clef, key, anchor):
    answer = judge(target, clef, key, anchor)
    assert (answer.verdict is Verdict.EXACT) == (key == target.midi)
    if key == target.midi:
        assert answer.played == target


@given(targets, clefs, keys, no_landmark_or_one)
def test_the_key_read_back_is_the_key_pressed_and_its_steps_can_be_counted_on_the_stave(
    target, clef, key, anchor
):
    answer = judge(target, clef, key, anchor)
    assert answer.played.midi == key
    assert answer.steps == clef.position(answer.played) - clef.position(target)


@given(signed, clefs, keys, no_landmark_or_one)
def test_a_higher_key_is_never_told_as_lower_on_the_stave(target, clef, key, anchor):
    steps = judge(target, clef, key, anchor).steps
    if key >= target.midi:
        assert steps >= 0
    if key <= target.midi:
        assert steps <= 0


@given(naturals, clefs, naturals, no_landmark_or_one)
def test_between_white_keys_the_steps_are_the_white_keys_moved(target, clef, pressed, anchor):
    answer = judge(target, clef, pressed.midi, anchor)
    assert answer.played == pressed
    low, high = sorted((target.midi, pressed.midi))
    assert abs(answer.steps) == sum(not is_black(key) for key in range(low, high))


@given(targets, clefs, keys)
def test_the_verdict_of_distance_agrees_with_the_steps(target, clef, key):
    answer = judge(target, clef, key)
    told = {Verdict.HALF_STEP: 0, Verdict.STEP: 1, Verdict.SKIP: 2}
    if answer.verdict in told:
        assert abs(answer.steps) == told[answer.verdict]
    if answer.verdict is Verdict.LEAP:
        assert abs(answer.steps) > 2
    if answer.verdict is Verdict.OCTAVE:
        assert answer.steps % 7 == 0
        assert answer.played.alteration == target.alteration
    if answer.verdict is Verdict.CLEF:
        assert answer.steps == (-12 if clef == TREBLE else 12)


@given(targets, clefs, keys, naturals)
def test_a_landmark_can_only_turn_a_verdict_into_direction(target, clef, key, anchor):
    with_landmark, without = judge(target, clef, key, anchor), judge(target, clef, key)
    if with_landmark.verdict is Verdict.DIRECTION:
        down = target.diatonic - anchor.diatonic
        assert with_landmark.played.diatonic - anchor.diatonic == -down != 0
    else:
        assert with_landmark == without


@given(naturals, naturals, clefs)
def test_to_the_landmarks_other_side_and_back_is_the_same_slip(target, anchor, clef):
    assume(target != anchor)
    mirrored = anchor.stepped(anchor.diatonic - target.diatonic)
    for asked, pressed in ((target, mirrored), (mirrored, target)):
        assert judge(asked, clef, pressed.midi, anchor).verdict is Verdict.DIRECTION


@given(targets, clefs)
def test_two_clef_twins_are_each_others_slip(target, clef):
    twin_clef = other_clef(clef)
    twin = Pitch(twin_clef.pitch_at(clef.position(target)).diatonic, target.alteration)
    assert judge(target, clef, twin.midi).verdict is Verdict.CLEF
    assert judge(twin, twin_clef, target.midi).verdict is Verdict.CLEF


@given(targets, clefs, st.integers(-3, 3))
def test_every_octave_of_the_right_key_is_an_octave_slip(target, clef, octaves):
    assume(octaves)
    answer = judge(target, clef, target.midi + 12 * octaves)
    assert answer.verdict is Verdict.OCTAVE
    assert answer.steps == 7 * octaves


@given(targets, clefs, keys, no_landmark_or_one)
def test_brushes_and_clusters_are_never_judged_from_a_single_key(target, clef, key, anchor):
    verdict = judge(target, clef, key, anchor).verdict
    assert verdict not in {Verdict.BRUSHED, Verdict.CLUSTER}


@given(targets, keys)
def test_a_white_key_is_spelled_natural_and_a_black_one_with_one_sign(target, key):
    spelled = spelled_beside(target, key)
    assert spelled.midi == key
    assert abs(spelled.alteration) == is_black(key)


@pytest.mark.parametrize(
    ("target", "brushed"),
    [("G4", "F4 F#4 G#4 A4"), ("E4", "D4 D#4 F4"), ("F4", "E4 F#4 G4"), ("C4", "B3 C#4 D4"),
     ("F#4", "F4 G4"), ("Bb3", "A3 B3"), ("B3", "A3 A#3 C4")],
)  # fmt: skip
def test_a_finger_brushes_the_keys_beside_its_own(target, brushed):
    pitch = Pitch.parse(target)
    touched = [key for key in range(21, 109) if brushes(pitch, key)]
    assert touched == [Pitch.parse(text).midi for text in brushed.split()]


@given(targets, targets)
def test_of_two_keys_either_can_be_brushed_from_the_other(one, other):
    assert brushes(one, other.midi) == brushes(other, one.midi)
    assert not brushes(one, one.midi)
