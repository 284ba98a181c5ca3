"""Lines of music: every note head as music21, an independent reader of MusicXML, reads it."""

from collections import Counter
from fractions import Fraction

import music21
import pytest

from landmarks.line import line_of
from landmarks.stave import BASS, TREBLE
from tests.musicxml import attributes, backup, note, score


def heads_by_music21(musicxml):
    """Count (pitch, clef, onset) of every note head, by music21."""
    read = music21.converter.parse(musicxml, format="musicxml")
    found = Counter()
    for part in read.parts:
        for each in part.recurse().notes:
            clef = each.getContextByClass(music21.clef.Clef)
            onset = Fraction(each.getOffsetInHierarchy(read))
            for pitch in each.pitches:
                name = pitch.nameWithOctave.replace("-", "b")
                found[name, "treble" if clef.sign == "G" else "bass", onset] += 1
    return found


def heads(line):
    return Counter((str(n.pitch), n.clef.name, n.onset) for n in line.notes)


def test_a_grand_stave_with_chords_ties_and_two_voices_is_read_head_by_head():
    line = line_of(
        score(
            attributes(clefs=("G2", "F4"))
            + note("G4", 2, "half") + note("B4", 2, "half", chord=True) + note("F#5", 2, "half")
            + backup(4) + note("D4", 4, "whole", voice=2)
            + backup(4) + note("C3", 1, "quarter", staff=2) + note(None, 3, "half", dots=1, staff=2)
        ),
        "written here",
    )  # fmt: skip
    assert [(str(n.pitch), n.clef, n.stave, str(n.value)) for n in line.notes] == [
        ("B4", TREBLE, 0, "half"), ("G4", TREBLE, 0, "half"), ("D4", TREBLE, 0, "whole"),
        ("C3", BASS, 1, "quarter"), ("F#5", TREBLE, 0, "half"),
    ]  # fmt: skip
    assert [n.onset for n in line.notes] == [0, 0, 0, 0, 2]
    assert heads(line) == heads_by_music21(line.musicxml)


def test_a_clef_that_changes_in_mid_bar_holds_from_there_on_in_every_voice():
    line = line_of(
        score(
            attributes(clefs=("G2",)) + note("G4", 2, "half")
            + "<attributes><clef><sign>F</sign><line>4</line></clef></attributes>"
            + note("C3", 2, "half")
            + backup(4) + note("E4", 2, "half", voice=2) + note("E3", 2, "half", voice=2)
        ),
        "written here",
    )  # fmt: skip
    assert [n.clef for n in line.notes] == [TREBLE, TREBLE, BASS, BASS]


def test_the_viola_s_clef_is_known_and_a_grace_note_has_no_value():
    grace = (
        "<note><grace/><pitch><step>D</step><octave>4</octave></pitch><type>eighth</type></note>"
    )
    line = line_of(score(attributes(clefs=("C3",)) + grace + note("C4", 4, "whole")), "here")
    assert [n.clef.name for n in line.notes] == ["alto", "alto"]
    assert line.notes[-1].clef.position(line.notes[-1].pitch) == 4
    assert [n.spot for n in line.notes] == ["alto/D4/other", "alto/C4/whole"]


def test_the_second_bar_begins_where_the_longest_voice_of_the_first_ends():
    line = line_of(
        score(
            attributes(clefs=("G2",))
            + note("G4", 4, "whole")
            + backup(4)
            + note("C4", 1, "quarter"),
            note("A4", 4, "whole"),
        ),
        "here",
    )
    assert [n.onset for n in line.notes] == [0, 0, 4]


def test_what_is_no_xml_is_refused():
    with pytest.raises(ValueError, match="here: not readable as MusicXML"):
        line_of("<score-partwise>", "here")
