"""Excerpts of scores, held against the same scores as music21 reads them whole."""

from collections import Counter
from itertools import islice

import music21
import pytest

from landmarks.excerpt import MOST_BARS, MOST_MOMENTS, score_lines
from landmarks.score import ScoreError

PIECES = ("bach/bwv846", "joplin/maple_leaf_rag", "schumann_clara/polonaise_op1n1")


def path_of(piece):
    found = music21.corpus.getWork(piece)
    return found[0] if isinstance(found, list) else found


def names(notes):
    return Counter(p.nameWithOctave.replace("-", "b") for n in notes for p in n.pitches)


@pytest.mark.parametrize("piece", PIECES)
def test_the_lines_of_a_keyboard_piece_hold_each_of_its_notes_once(piece):
    path = path_of(piece)
    staves = list(music21.converter.parse(path).getElementsByClass("PartStaff"))
    lines = list(islice(score_lines(path), 10_000))
    told = Counter(str(note.pitch) for line in lines for note in line.notes)
    assert told == sum((names(stave.recurse().notes) for stave in staves), Counter())
    assert told.total() > 300


@pytest.mark.parametrize("piece", PIECES)
def test_a_line_is_as_music21_reads_it_back(piece):
    """Exported, cut out, and read anew: pitches in order of time, stave by stave."""
    for line in islice(score_lines(path_of(piece)), 4):
        read = music21.converter.parse(line.musicxml, format="musicxml")
        for stave, part in enumerate(read.parts):
            order = [
                (n.getOffsetInHierarchy(read), -p.midi, p.nameWithOctave.replace("-", "b"))
                for n in part.recurse().notes
                for p in n.pitches
            ]
            own = [n for n in line.notes if n.stave == stave]
            assert [str(n.pitch) for n in own] == [name for *_, name in sorted(order)]


def test_a_line_is_short_enough_to_be_seen_well():
    for line in score_lines(path_of("bach/bwv846")):
        first, _, last = line.source.rpartition(" to ")
        assert not first or int(last) - int(first.rpartition(" ")[2]) < MOST_BARS
        moments = len({note.onset for note in line.notes})
        assert moments <= MOST_MOMENTS or "to" not in line.source


def test_a_line_carries_its_clef_key_and_time_with_it():
    line = next(islice(score_lines(path_of("joplin/maple_leaf_rag"), 5), 1))
    read = music21.converter.parse(line.musicxml, format="musicxml")
    upper = read.parts[0].recurse()
    assert upper.getElementsByClass("KeySignature")[0].sharps == -4
    assert upper.getElementsByClass("TimeSignature")[0].ratioString == "2/4"
    assert line.source == "maple_leaf_rag.mxl, bars 5 to 6"


def test_nothing_but_notes_is_left():
    for line in islice(score_lines(path_of("schumann_clara/polonaise_op1n1")), 6):
        for word in ("<words", "<lyric", "<dynamics", "<slur", "<articulations", "<metronome"):
            assert word not in line.musicxml


def test_of_a_choir_the_upper_voice_is_taken(tmp_path):
    line = next(score_lines(path_of("bach/bwv66.6")))
    assert {note.stave for note in line.notes} == {0}
    assert {note.clef.name for note in line.notes} == {"treble"}


@pytest.mark.parametrize(
    ("name", "content", "sentence"),
    [
        ("empty.musicxml", b"", "this file is empty"),
        ("noise.mid", b"\x00\x01\x02" * 40, "this is not a score"),
        ("cut.musicxml", b"<?xml version='1.0'?><score-partwise><part", "damaged or cut short"),
        ("page.html", b"<html><body>hello</body></html>", "this is not a score"),
    ],
)
def test_what_is_no_score_gives_one_sentence(tmp_path, name, content, sentence):
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(ScoreError, match=sentence) as refusal:
        next(score_lines(path))
    assert str(refusal.value).startswith(f"{path}: ")
    assert len(str(refusal.value).splitlines()) == 1


def test_a_score_that_is_not_there_gives_one_sentence(tmp_path):
    with pytest.raises(ScoreError, match="there is no such file"):
        score_lines(tmp_path / "none.musicxml")


def test_a_score_that_asks_for_another_file_is_refused_and_not_opened(tmp_path):
    secret = tmp_path / "secret"
    secret.write_text("C4")
    path = tmp_path / "trap.musicxml"
    path.write_text(
        f'<!DOCTYPE score-partwise [<!ENTITY other SYSTEM "{secret.as_uri()}">]>'
        "<score-partwise>&other;</score-partwise>"
    )
    with pytest.raises(ScoreError, match="declares entities"):
        score_lines(path)


def test_a_bar_beyond_the_end_is_named_with_the_bars_there_are():
    with pytest.raises(ScoreError, match="bar 99 is not in this score; it has bars 1 to 34"):
        score_lines(path_of("bach/bwv846"), 99)
