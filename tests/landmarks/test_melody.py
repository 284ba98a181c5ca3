"""Invented melodies: singable by rule, whole by count, the same for the same seed."""

from fractions import Fraction
from itertools import pairwise

import music21
import pytest
from hypothesis import given
from hypothesis import strategies as st

from landmarks.melody import (
    FEWEST_OF_THE_LANDMARK,
    MOST_OF_THE_LANDMARK,
    WIDEST_LEAP,
    invented_melody,
)
from landmarks.melody_musicxml import melody_line
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE

SETS = tuple(built_in_sets().values())
asked = st.sampled_from([(s, anchor) for s in SETS for anchor in s.anchors])
seeds = st.integers(0, 2**32)


def sung(melody, clef):
    """The notes of one hand, as steps from C0."""
    bars = [bar for bar in melody.bars if bar.clef == clef]
    return [note.pitch.diatonic for bar in bars for note in bar.notes if note.pitch]


@given(asked, seeds, st.booleans())
def test_a_melody_moves_mostly_by_step_and_never_leaps_beyond_a_fifth(asked, seed, grand):
    melody = invented_melody(*asked, seed, grand=grand)
    for clef in melody.clefs:
        notes = sung(melody, clef)
        moves = [after - before for before, after in pairwise(notes)]
        assert all(abs(move) <= WIDEST_LEAP for move in moves)
        assert 2 * sum(abs(move) == 1 for move in moves) >= len(moves)
        assert all(moves[n] or moves[n + 1] for n in range(len(moves) - 1))
        for leap, after in pairwise(moves):
            if abs(leap) > 2:
                assert after == (-1 if leap > 0 else 1), "a leap is answered by a step back"
        assert not notes or max(notes) - min(notes) <= 7


@given(asked, seeds, st.booleans())
def test_the_landmark_comes_often_enough_to_be_looked_for(asked, seed, grand):
    landmarks, anchor = asked
    melody = invented_melody(landmarks, anchor, seed, grand=grand)
    count = sung(melody, anchor.clef).count(anchor.pitch.diatonic)
    assert FEWEST_OF_THE_LANDMARK <= count <= MOST_OF_THE_LANDMARK


@given(asked, seeds)
def test_a_melody_begins_and_ends_on_a_landmark_where_there_are_several(asked, seed):
    landmarks, anchor = asked
    notes = sung(invented_melody(landmarks, anchor, seed), anchor.clef)
    anchors = {a.pitch.diatonic for a in landmarks.anchors if a.clef == anchor.clef}
    if len(anchors) == 1:
        anchors |= {anchor.pitch.diatonic + 2, anchor.pitch.diatonic - 2}
    homes = anchors | {anchor.pitch.diatonic + 2, anchor.pitch.diatonic - 2}
    assert {notes[0], notes[-1]} <= homes


@given(asked, seeds, st.booleans())
def test_every_bar_is_full(asked, seed, grand):
    melody = invented_melody(*asked, seed, grand=grand)
    for bar in melody.bars:
        assert sum((note.value.quarters for note in bar.notes), Fraction(0)) == melody.beats


@given(asked, seeds)
def test_the_same_seed_gives_the_same_melody(asked, seed):
    assert invented_melody(*asked, seed) == invented_melody(*asked, seed)


@pytest.mark.parametrize("grand", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_music21_reads_what_was_invented(seed, grand):
    """music21 as an independent reader of the MusicXML: bars, values, pitches, clefs, beams."""
    landmarks = SETS[0]
    anchor = landmarks.anchors[seed % len(landmarks.anchors)]
    melody = invented_melody(landmarks, anchor, seed, grand=grand)
    line = melody_line(melody)
    read = music21.converter.parse(line.musicxml, format="musicxml")
    assert len(read.parts) == len(melody.clefs)
    for clef, part in zip(melody.clefs, read.parts, strict=True):
        assert part.recurse().getElementsByClass("Clef")[0].sign == ("G" if clef == TREBLE else "F")
        assert [b.duration.quarterLength for b in part.getElementsByClass("Measure")] == [
            melody.beats
        ] * len(melody.bars)
        assert [n.pitch.midi for n in part.recurse().notes] == [
            note.pitch.midi for note in line.notes if note.clef == clef
        ]
        beams = [n.beams.getTypes() for n in part.recurse().notes if n.duration.type == "eighth"]
        assert beams.count(["start"]) == beams.count(["stop"])
    assert {note.clef for note in line.notes} <= {TREBLE, BASS}
