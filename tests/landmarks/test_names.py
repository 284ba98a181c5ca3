"""What notes are called, against music21's own names and against the trade."""

from itertools import product

import music21
import pytest
from hypothesis import given
from hypothesis import strategies as st

from landmarks.names import FIXED_DO, GERMAN, LETTER, NAMINGS, landmark_name
from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, CLEFS, TREBLE

SPELLED = [
    pitch
    for diatonic, alteration in product(range(4, 58), range(-2, 3))
    if 21 <= (pitch := Pitch(diatonic, alteration)).midi <= 108
]
clefs = st.sampled_from([TREBLE, BASS])
piano = st.sampled_from(SPELLED)
namings = st.sampled_from(list(NAMINGS.values()))


def music21_pitch(pitch):
    return music21.pitch.Pitch(str(pitch).replace("b", "-"))


@pytest.mark.parametrize("pitch", SPELLED, ids=str)
def test_every_note_has_the_letter_and_the_german_name_that_music21_gives_it(pitch):
    assert LETTER.of(pitch) == music21_pitch(pitch).unicodeName
    assert GERMAN.of(pitch) == music21_pitch(pitch).german


# The Italian words for the signs that music21 writes out.
ITALIAN_SIGNS = {"": "", "diesis": "♯", "bemolle": "♭",
                 "doppio diesis": "𝄪", "doppio bemolle": "𝄫"}  # fmt: skip


@pytest.mark.parametrize("pitch", SPELLED, ids=str)
def test_every_note_has_the_fixed_do_syllable_that_music21_gives_it_in_italian(pitch):
    syllable, _, sign = music21_pitch(pitch).italian.partition(" ")
    assert FIXED_DO.of(pitch) == syllable + ITALIAN_SIGNS[sign]


def test_a_german_b_is_b_flat_and_a_german_h_is_b():
    assert GERMAN.of(Pitch.parse("Bb4")) == "B"
    assert GERMAN.of(Pitch.parse("B4")) == "H"


# Common practice, no source: what a teacher calls these notes.
SPOKEN = {
    ("C2", BASS): "low C", ("C3", BASS): "bass C", ("F3", BASS): "bass F",
    ("C4", BASS): "middle C", ("C4", TREBLE): "middle C", ("G4", TREBLE): "treble G",
    ("C5", TREBLE): "treble C", ("C6", TREBLE): "high C",
}  # fmt: skip


@pytest.mark.parametrize(("place", "name"), SPOKEN.items())
def test_landmarks_are_called_what_a_teacher_calls_them(place, name):
    note, clef = place
    assert landmark_name(Pitch.parse(note), clef) == name


# How the program goes on from the names of the Cs; see `landmark_name`.
FOLLOWING = {
    ("D4", TREBLE): "treble D", ("D5", TREBLE): "high D", ("B2", BASS): "low B",
    ("B3", BASS): "bass B", ("B3", TREBLE): "B below middle C", ("D4", BASS): "D above middle C",
    ("C5", BASS): "C above middle C", ("C3", TREBLE): "C below middle C",
    ("B1", BASS): "very low B",
    ("D6", TREBLE): "very high D", ("A0", BASS): "very very low A",
    ("C8", TREBLE): "very very high C", ("F#4", TREBLE): "treble F♯", ("Bb3", BASS): "bass B♭",
}  # fmt: skip


@pytest.mark.parametrize(("place", "name"), FOLLOWING.items())
def test_the_other_notes_are_named_from_the_landmarks(place, name):
    note, clef = place
    assert landmark_name(Pitch.parse(note), clef) == name


@pytest.mark.parametrize(
    ("naming", "names"),
    [
        (FIXED_DO, ("sol below middle do", "treble sol", "bass si♭")),
        (GERMAN, ("G below middle C", "treble G", "bass B")),
    ],
    ids=["fixed-do", "german"],
)
def test_the_full_name_speaks_the_teachers_own_naming_throughout(naming, names):
    asked = (("G3", TREBLE), ("G4", TREBLE), ("Bb3", BASS))
    assert tuple(landmark_name(Pitch.parse(n), clef, naming) for n, clef in asked) == names


@pytest.mark.parametrize("naming", NAMINGS.values(), ids=NAMINGS)
@pytest.mark.parametrize("clef", CLEFS.values(), ids=CLEFS)
def test_no_two_notes_of_the_piano_share_a_name_within_a_clef(clef, naming):
    named = {landmark_name(pitch, clef, naming) for pitch in SPELLED}
    assert len(named) == len(SPELLED)


@given(piano, clefs, namings)
def test_a_full_name_holds_the_note_and_its_side_of_middle_c(pitch, clef, naming):
    name = landmark_name(pitch, clef, naming)
    assert naming.of(pitch) in name.split()
    upwards = pitch.diatonic - MIDDLE_C.diatonic
    sides = {"treble": 1, "high": 1, "above": 1, "bass": -1, "low": -1, "below": -1}
    said = {sides[word] for word in name.split() if word in sides}
    assert said == ({(upwards > 0) - (upwards < 0)} if upwards else set())


@given(st.integers(1, 28), namings)
def test_the_names_are_mirrored_about_middle_c(steps, naming):
    above = landmark_name(MIDDLE_C.stepped(steps), TREBLE, naming).split()[:-1]
    below = landmark_name(MIDDLE_C.stepped(-steps), BASS, naming).split()[:-1]
    mirror = {"treble": "bass", "high": "low", "very": "very"}
    assert [mirror[word] for word in above] == below
