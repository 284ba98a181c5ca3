"""Pitches against music21, MIDI 1.0, ISO 16 and a published table, and by law."""

from itertools import product

import mido
import music21
import pytest
from hypothesis import given
from hypothesis import strategies as st

from landmarks.pitch import (
    HIGHEST_PIANO_KEY,
    LOWEST_PIANO_KEY,
    MIDDLE_C,
    Pitch,
    frequency,
    is_black,
)

PIANO_KEYS = range(LOWEST_PIANO_KEY, HIGHEST_PIANO_KEY + 1)
pitches = st.builds(Pitch, st.integers(-7, 77), st.integers(-2, 2))
keys = st.integers(0, 127)

# music21 writes a flat as "-". Its own count of letters, from C0 = 1, is shifted to ours.
SPELLINGS = {
    f"{letter}{sign}{octave}": music21.pitch.Pitch(f"{letter}{sign.replace('b', '-')}{octave}")
    for letter, sign, octave in product("CDEFGAB", ("bb", "b", "", "#", "##"), range(9))
}
ON_THE_PIANO = {text: read for text, read in SPELLINGS.items() if 21 <= read.midi <= 108}


def test_every_key_of_the_piano_is_spelled_in_at_least_two_ways():
    ways = [sum(read.midi == key for read in ON_THE_PIANO.values()) for key in PIANO_KEYS]
    # G sharp / A flat is the one key that even double signs spell in two ways only.
    assert min(ways) == 2
    assert len(ON_THE_PIANO) == sum(ways) == 257


@pytest.mark.parametrize("text", ON_THE_PIANO)
def test_every_spelling_from_a0_to_c8_is_read_as_music21_reads_it(text):
    pitch, read = Pitch.parse(text), ON_THE_PIANO[text]
    assert (pitch.letter, pitch.alteration, pitch.octave) == (
        read.step, read.alter, read.octave,
    )  # fmt: skip
    assert pitch.midi == read.midi
    assert pitch.diatonic == read.diatonicNoteNum - 1
    assert is_black(pitch.midi) == (read.pitchClass in {1, 3, 6, 8, 10})
    assert frequency(pitch.midi) == pytest.approx(read.frequency, rel=1e-12)


@pytest.mark.parametrize("key", PIANO_KEYS)
def test_a_key_is_named_natural_if_white_and_sharp_or_flat_if_black(key):
    raised, lowered = Pitch.of_key(key), Pitch.of_key(key, flats=True)
    assert SPELLINGS[str(raised)].midi == SPELLINGS[str(lowered)].midi == key
    if is_black(key):
        assert (raised.alteration, lowered.alteration) == (1, -1)
    else:
        assert raised == lowered == raised.natural()


# MIDI 1.0 Detailed Specification 4.2, table of channel voice messages: a note-on is
# 1001nnnn 0kkkkkkk 0vvvvvvv, and kkkkkkk = 60 is middle C. Bytes written out by hand.
NOTE_ON_BYTES = {
    "A0": (0x90, 0x15, 0x40),
    "C2": (0x90, 0x24, 0x40),
    "C3": (0x90, 0x30, 0x40),
    "F3": (0x90, 0x35, 0x40),
    "B3": (0x90, 0x3B, 0x40),
    "C4": (0x90, 0x3C, 0x40),
    "C#4": (0x90, 0x3D, 0x40),
    "Db4": (0x90, 0x3D, 0x40),
    "G4": (0x90, 0x43, 0x40),
    "A4": (0x90, 0x45, 0x40),
    "C5": (0x90, 0x48, 0x40),
    "C6": (0x90, 0x54, 0x40),
    "C8": (0x90, 0x6C, 0x40),
}


@pytest.mark.parametrize(("text", "wire"), NOTE_ON_BYTES.items())
def test_the_note_on_bytes_of_a_pitch_are_those_of_midi_1_0(text, wire):
    pitch = Pitch.parse(text)
    sent = mido.Message("note_on", note=pitch.midi, velocity=0x40)
    assert tuple(sent.bytes()) == wire
    assert mido.Message.from_bytes(bytes(wire)).note == pitch.midi


def test_middle_c_is_key_60_and_the_88_keys_run_from_a0_to_c8():
    assert MIDDLE_C.midi == 60
    assert str(MIDDLE_C) == "C4"
    assert [str(Pitch.of_key(key)) for key in (PIANO_KEYS[0], PIANO_KEYS[-1])] == ["A0", "C8"]
    assert len(PIANO_KEYS) == 88
    # Common practice, no source: a piano has 52 white and 36 black keys.
    assert sum(is_black(key) for key in PIANO_KEYS) == 36


# Equal temperament with A4 = 440 Hz, to four digits: Engineering ToolBox, "Notes, Octaves and
# Frequencies" (engineeringtoolbox.com/note-frequencies-d_520.html). One octave a row, C to B.
TEMPERAMENT_TABLE = """
16.35 17.32 18.35 19.45 20.60 21.83 23.12 24.50 25.96 27.50 29.14 30.87
32.70 34.65 36.71 38.89 41.20 43.65 46.25 49.00 51.91 55.00 58.27 61.74
65.41 69.30 73.42 77.78 82.41 87.31 92.50 98.00 103.8 110.0 116.5 123.5
130.8 138.6 146.8 155.6 164.8 174.6 185.0 196.0 207.7 220.0 233.1 246.9
261.6 277.2 293.7 311.1 329.6 349.2 370.0 392.0 415.3 440.0 466.2 493.9
523.3 554.4 587.3 622.3 659.3 698.5 740.0 784.0 830.6 880.0 932.3 987.8
1047 1109 1175 1245 1319 1397 1480 1568 1661 1760 1865 1976
2093 2217 2349 2489 2637 2794 2960 3136 3322 3520 3729 3951
4186 4435 4699 4978 5274 5588 5920 6272 6645 7040 7459 7902
"""


@pytest.mark.parametrize(("octave", "row"), [*enumerate(TEMPERAMENT_TABLE.split("\n")[1:-1])])
def test_the_keys_sound_as_the_equal_temperament_table_says(octave, row):
    c = Pitch.parse(f"C{octave}").midi
    computed = [float(f"{frequency(c + semitone):.4g}") for semitone in range(12)]
    assert computed == [float(entry) for entry in row.split()]


def test_a4_sounds_at_440_hertz_as_iso_16_sets_it():
    assert frequency(Pitch.parse("A4").midi) == 440.0


# H. von Helmholtz, "On the Sensations of Tone" (tr. A. J. Ellis, 1875), the pitches of the
# octaves; the keys that go with them from a table in Mechanical Music Digest, 20 Dec 1999
# ("12 ''C ... 36 C, 48 c, 60 c', 69 a' = 440 Hz ... 108 c'''''"), its marks put after the letter.
HELMHOLTZ_TABLE = {
    12: "C͵͵", 21: "A͵͵", 24: "C͵", 36: "C", 47: "B", 48: "c", 59: "b", 60: "c′", 69: "a′",
    72: "c′′", 84: "c′′′", 96: "c′′′′", 108: "c′′′′′",
}  # fmt: skip


@pytest.mark.parametrize(("key", "name"), HELMHOLTZ_TABLE.items())
def test_helmholtz_names_follow_the_handbook(key, name):
    assert Pitch.of_key(key).helmholtz == name


def test_in_helmholtz_names_the_sign_stands_between_letter_and_octave_mark():
    assert Pitch.parse("F#4").helmholtz == "f♯′"
    assert Pitch.parse("Bb1").helmholtz == "B♭͵"


def test_no_two_pitches_share_a_helmholtz_name():
    spelled = [Pitch.parse(text) for text in SPELLINGS]
    assert len({pitch.helmholtz for pitch in spelled}) == len(spelled)


@given(pitches)
def test_what_is_written_can_be_read_back(pitch):
    assert Pitch.parse(str(pitch)) == pitch


@given(pitches, st.sampled_from(["♯", "♭", "𝄪", "𝄫", "x"]))
def test_the_printed_signs_are_read_like_the_typed_ones(pitch, sign):
    typed = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb", "x": "##"}[sign]
    written, printed = (f"{pitch.letter}{s}{pitch.octave}" for s in (typed, sign))
    assert Pitch.parse(f" {printed.lower()} ") == Pitch.parse(written)


@given(pitches, st.booleans())
def test_a_pitch_and_its_key_spelled_anew_are_enharmonic(pitch, flats):
    assert Pitch.of_key(pitch.midi, flats=flats).midi == pitch.midi


@given(pitches, st.integers(-30, 30), st.integers(-30, 30))
def test_stepping_twice_is_stepping_once_as_far(pitch, first, then):
    assert pitch.stepped(first).stepped(then) == pitch.stepped(first + then)
    assert pitch.stepped(first).diatonic - pitch.diatonic == first
    assert pitch.stepped(0) == pitch.natural()


@given(pitches)
def test_seven_steps_are_an_octave_of_twelve_semitones(pitch):
    assert pitch.stepped(7).midi - pitch.natural().midi == 12
    assert pitch.stepped(7).letter == pitch.letter


@given(pitches)
def test_every_step_is_a_tone_or_between_e_and_f_and_b_and_c_a_semitone(pitch):
    semitones = pitch.stepped(1).midi - pitch.natural().midi
    assert semitones == (1 if pitch.letter in "EB" else 2)


@given(keys)
def test_twelve_keys_up_the_frequency_doubles(key):
    assert frequency(key + 12) == pytest.approx(2 * frequency(key), rel=1e-14)
    assert frequency(key + 1) > frequency(key)


@given(st.lists(pitches, max_size=6))
def test_pitches_sort_as_they_stand_on_the_stave(some):
    places = [(pitch.diatonic, pitch.alteration) for pitch in sorted(some)]
    assert places == sorted(places)


@pytest.mark.parametrize(
    "text", ["", "H4", "G", "4", "G#b4", "Gbbb4", "G4 A4", "G4.5", "Gis4", "G٤", "sol4", "G--1"]
)
def test_what_is_no_pitch_is_refused_with_what_one_looks_like(text):
    with pytest.raises(ValueError, match="is not a pitch: a letter A to G") as refusal:
        Pitch.parse(text)
    assert repr(text) in str(refusal.value)


@pytest.mark.parametrize("alteration", [-3, 3, 12])
def test_a_pitch_bears_a_double_sign_at_most(alteration):
    with pytest.raises(ValueError, match="between -2 and 2"):
        Pitch(28, alteration)
