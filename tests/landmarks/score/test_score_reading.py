"""What is read of clefs, ties, grace notes, voices, hands, spelling; MIDI, ABC and Humdrum."""

import io
from collections import Counter
from fractions import Fraction
from pathlib import Path

import mido
import music21
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from landmarks.clefs import clef_of
from landmarks.names import landmark_name
from landmarks.pitch import Pitch
from landmarks.score import Hand, ScoreError, place_notes, read_scores
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE

SETS = built_in_sets()
PRIMITIVES = Path(music21.__file__).parent / "midi" / "testPrimitive"


def bars(*contents, staves=1, clefs="", key=0):
    attributes = (
        f"<attributes><divisions>1</divisions><key><fifths>{key}</fifths></key>"
        f"<staves>{staves}</staves>{clefs}</attributes>"
    )
    return "".join(
        f'<measure number="{number}">{attributes if number == 1 else ""}{content}</measure>'
        for number, content in enumerate(contents, 1)
    )


def clef(sign, line, octaves=None, number=1):
    change = f"<clef-octave-change>{octaves}</clef-octave-change>" if octaves else ""
    return f'<clef number="{number}"><sign>{sign}</sign><line>{line}</line>{change}</clef>'


def note(name, *, staff=1, length=1, inside="", tie=()):
    alter = {"#": "<alter>1</alter>", "b": "<alter>-1</alter>"}.get(name[1:-1], "")
    return (
        f"<note>{inside}<pitch><step>{name[0]}</step>{alter}<octave>{name[-1]}</octave></pitch>"
        + (f"<duration>{length}</duration>" if length else "")
        + "".join(f'<tie type="{kind}"/>' for kind in tie)
        + f"<voice>1</voice><type>quarter</type><staff>{staff}</staff></note>"
    )


@pytest.fixture
def read(tmp_path):
    def of(content, name="a.musicxml"):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        (score,) = read_scores(path)
        return score

    return of


@pytest.fixture
def read_bars(read):
    def of(measures, further=""):
        return read(
            '<score-partwise><part-list><score-part id="P1"><part-name>Piano</part-name>'
            f'</score-part></part-list><part id="P1">{measures}</part>{further}</score-partwise>'
        )

    return of


def told(score):
    return [(note.clef.name, str(note.written)) for note in score.notes]


def test_without_a_clef_the_upper_stave_is_treble_and_the_lower_bass_and_it_says_so(read_bars):
    score = read_bars(bars(note("G4") + note("F3", staff=2), staves=2))
    assert told(score) == [("treble", "G4"), ("bass", "F3")]
    assert score.assumed == (
        "no clef stands on stave 1: the treble clef is taken",
        "no clef stands on stave 2: the bass clef is taken",
    )


def test_a_clef_that_changes_holds_from_where_it_stands(read_bars):
    change = f"<attributes>{clef('F', 4)}</attributes>"
    score = read_bars(bars(note("G4") + change + note("C4"), note("F3"), clefs=clef("G", 2)))
    assert told(score) == [("treble", "G4"), ("bass", "C4"), ("bass", "F3")]


def test_an_octave_clef_is_read_as_written_and_played_as_it_sounds(read_bars):
    score = read_bars(bars(note("G3"), clefs=clef("G", 2, -1)))
    (read,) = score.notes
    assert (str(read.written), read.octaves, read.key) == ("G4", -1, 55)
    assert place_notes(score.notes, SETS["five"])[0].steps == 0


def test_under_an_octave_line_the_written_place_is_read(read_bars):
    line = (
        '<direction><direction-type><octave-shift type="{}" size="8"/></direction-type></direction>'
    )
    music = line.format("down") + note("G5") + note("A5") + line.format("stop") + note("G4")
    score = read_bars(bars(music, clefs=clef("G", 2)))
    assert [(str(n.written), n.octaves) for n in score.notes] == [("G4", 1), ("A4", 1), ("G4", 0)]


def test_other_clefs_are_told_and_have_no_landmark(read_bars):
    score = read_bars(bars(note("C4"), clefs=clef("C", 3)))
    assert told(score) == [("alto", "C4")]
    assert place_notes(score.notes, SETS["five"])[0].anchor is None


def test_a_tied_note_is_read_once(read_bars):
    score = read_bars(
        bars(note("G4", tie=["start"]), note("G4", tie=["stop", "start"]), note("G4", tie=["stop"]))
    )
    assert [n.bar for n in score.notes] == ["1"]
    assert [n.bar for n in score.held] == ["2", "3"]


def test_a_tie_that_is_only_drawn_is_a_tie(read_bars):
    drawn = "<notations><tied type='stop'/></notations></note>"
    score = read_bars(bars(note("G4") + note("G4").replace("</note>", drawn)))
    assert (len(score.notes), len(score.held)) == (1, 1)


def test_grace_notes_are_marked_and_come_before_their_note(read_bars):
    score = read_bars(bars(note("A4", inside="<grace/>", length=0) + note("G4")))
    assert [(str(n.written), n.is_grace) for n in score.notes] == [("A4", True), ("G4", False)]


def test_a_voice_and_a_chord_that_cross_staves_are_read_where_they_are_written(read_bars):
    clefs = clef("G", 2) + clef("F", 4, number=2)
    chord = note("E4") + note("C3", staff=2, inside="<chord/>")
    score = read_bars(bars(note("G4") + note("F3", staff=2) + chord, staves=2, clefs=clefs))
    assert [(n.stave.hand, str(n.written), n.offset) for n in score.notes] == [
        (Hand.RIGHT, "G4", 0), (Hand.LEFT, "F3", 1), (Hand.RIGHT, "E4", 2), (Hand.LEFT, "C3", 2),
    ]  # fmt: skip


def test_a_transposing_part_is_read_as_it_is_written(read_bars):
    transposed = "<attributes><transpose><chromatic>-2</chromatic></transpose></attributes>"
    score = read_bars(bars(transposed + note("D5"), clefs=clef("G", 2)))
    assert told(score) == [("treble", "D5")]
    assert "Piano is a transposing part: its notes are read as they are written" in score.assumed


def test_what_is_no_key_to_be_read_is_counted_by_its_reason(read_bars):
    drum = "<note><unpitched/><duration>1</duration></note>"
    hidden = note("C5").replace("<note>", '<note print-object="no">')
    quarter_tone = note("C#5").replace("<alter>1<", "<alter>0.5<")
    cue = note("C5", inside="<cue/>")
    score = read_bars(bars(drum + hidden + quarter_tone + cue + note("G4")))
    assert told(score) == [("treble", "G4")]
    assert score.notes[0].offset == 4
    assert score.left_out == {
        "unpitched": 1, "not printed": 1, "between the keys": 1, "cue notes": 1,
    }  # fmt: skip


def test_a_sharp_of_the_key_signature_is_told_from_one_beside_the_note(read_bars):
    score = read_bars(bars(note("F#4") + note("C#5") + note("F4"), key=1))
    assert [n.in_signature for n in score.notes] == [True, False, False]


def test_a_song_with_piano_gives_the_piano_both_hands_and_the_singer_none(read_bars):
    singer = f'<part id="P2">{bars(note("A4"))}</part>'
    score = read_bars(bars(note("G4") + note("F3", staff=2), staves=2), singer)
    assert [n.stave.hand for n in score.notes if n.stave.part == "Piano"] == list(Hand)
    assert [n.stave.hand for n in score.notes if n.stave.part != "Piano"] == [None]


def test_a_timewise_score_is_the_same_score(read):
    partwise = (
        "<score-partwise><part-list><score-part id='A'/></part-list><part id='A'>"
        f"<measure number='7'>{note('G4')}</measure></part></score-partwise>"
    )
    timewise = (
        "<score-timewise><part-list><score-part id='A'/></part-list><measure number='7'>"
        f"<part id='A'>{note('G4')}</part></measure></score-timewise>"
    )
    assert read(partwise).notes == read(timewise).notes
    assert read(timewise).notes[0].bar == "7"


def midi(*tracks, kind=1, key=None):
    """MIDI of tracks of (start, length, key number, channel) in quarter notes."""
    file = mido.MidiFile(type=kind, ticks_per_beat=480)
    for notes in tracks:
        moments = [(int(480 * s), 1, k, c) for s, _, k, c in notes]
        moments += [(int(480 * (s + n)), 0, k, c) for s, n, k, c in notes]
        track, last = mido.MidiTrack(), 0
        if key:
            track.append(mido.MetaMessage("key_signature", key=key))
        for at, on, number, channel in sorted(moments):
            kind_of = "note_on" if on else "note_off"
            track.append(mido.Message(kind_of, note=number, channel=channel, time=at - last))
            last = at
        file.tracks.append(track)
    data = io.BytesIO()
    file.save(file=data)
    return data.getvalue()


def test_of_two_midi_tracks_the_higher_is_the_right_hands(read):
    score = read(midi([(0, 1, 48, 0)], [(0, 1, 59, 1), (1, 1, 67, 1)]))
    assert [(n.stave.hand, n.clef, str(n.written)) for n in score.notes] == [
        (Hand.RIGHT, TREBLE, "B3"), (Hand.LEFT, BASS, "C3"), (Hand.RIGHT, TREBLE, "G4"),
    ]  # fmt: skip
    assert "of its two tracks the higher one is taken for the right hand in the treble clef" in (
        score.assumed
    )


def test_two_midi_channels_on_one_track_are_two_hands(read):
    score = read(midi([(0, 1, 48, 1), (0, 1, 67, 0)], kind=0))
    assert {(n.stave.hand, n.key) for n in score.notes} == {(Hand.RIGHT, 67), (Hand.LEFT, 48)}


def test_midi_on_one_channel_is_parted_at_middle_c(read):
    score = read(midi([(0, 1, 59, 0), (1, 1, 60, 0)]))
    assert [(n.stave.hand, n.clef) for n in score.notes] == [
        (Hand.LEFT, BASS), (Hand.RIGHT, TREBLE),
    ]  # fmt: skip


@pytest.mark.parametrize(("key", "written"), [("F", "Bb4"), ("G", "A#4"), (None, "A#4")])
def test_midis_black_keys_are_spelled_by_the_key_signature(read, key, written):
    assert told(read(midi([(0, 1, 70, 0)], key=key))) == [("treble", written)]


def test_drums_are_left_out_of_midi_and_counted(read):
    score = read(midi([(0, 1, 60, 0)], [(0, 1, 36, 9), (1, 1, 38, 9)]))
    assert [n.key for n in score.notes] == [60]
    assert score.left_out == {"unpitched": 2}


def raw_keys(file):
    return Counter(
        message.note
        for track in file.tracks
        for message in track
        if message.type == "note_on" and message.velocity and message.channel != 9
    )


@pytest.mark.parametrize("path", sorted(PRIMITIVES.glob("*.mid")), ids=lambda path: path.stem)
def test_midi_files_hold_the_keys_that_mido_finds_in_them(path):
    expected = raw_keys(mido.MidiFile(path))
    if not expected:
        with pytest.raises(ScoreError, match="holds no notes"):
            read_scores(path)
        return
    (score,) = read_scores(path)
    assert Counter(n.key for n in score.notes) == expected


notes_in_turn = st.lists(
    st.tuples(st.integers(1, 4), st.integers(21, 108)), min_size=1, max_size=20
)


@settings(max_examples=30)
@given(notes_in_turn, notes_in_turn)
def test_any_two_tracks_of_midi_keep_every_key_and_its_time(tmp_path_factory, right, left):
    tracks = []
    for channel, hand in enumerate((right, left)):
        at, notes = 0, []
        for length, number in hand:
            notes.append((at, length, number, channel))
            at += length
        tracks.append(notes)
    path = tmp_path_factory.mktemp("midi") / "a.mid"
    path.write_bytes(midi(*tracks))
    (score,) = read_scores(path)
    expected = Counter((Fraction(s), k) for track in tracks for s, _, k, _ in track)
    assert Counter((n.onset, n.key) for n in score.notes) == expected


def test_abc_voices_named_before_the_key_keep_their_clefs(read):
    score = read(
        'X:1\nL:1/4\nV:1 clef=treble\nV:2 clef=bass name="Left"\nK:G\n'
        "[V:1] C F|[CE] G-|G2|\n[V:2] C, {g}F,-|F,2|z2|\n",
        "a.abc",
    )
    assert told(score) == [
        ("treble", "C4"), ("bass", "C3"), ("bass", "G5"), ("treble", "F#4"), ("bass", "F#3"),
        ("treble", "C4"), ("treble", "E4"), ("treble", "G4"),
    ]  # fmt: skip
    assert [n.bar for n in score.held] == ["2", "3"]


def test_a_bass_clef_moves_no_note_of_abc(read):
    # ABC standard 2.1, section 4.6: the clef says how a note is drawn, not which it is.
    assert told(read("X:1\nL:1/4\nK:C bass\nC, F, C\n", "a.abc")) == [
        ("bass", "C3"), ("bass", "F3"), ("bass", "C4"),
    ]  # fmt: skip


def test_abc_without_a_clef_is_read_in_the_treble_clef_and_says_so(read):
    score = read("X:1\nK:C\nC\n", "a.abc")
    assert told(score) == [("treble", "C4")]
    assert "no clef stands on stave 1: the treble clef is taken" in score.assumed


def test_a_book_of_abc_tunes_gives_each(tmp_path):
    path = tmp_path / "book.abc"
    path.write_text("X:1\nT:One\nK:C\nC|\n\nX:2\nT:Two\nK:D\nF|\n")
    assert [(score.title, told(score)) for score in read_scores(path)] == [
        ("One", [("treble", "C4")]), ("Two", [("treble", "F#4")]),
    ]  # fmt: skip


def test_humdrum_spines_are_read_with_clefs_ties_and_grace_notes(read):
    score = read(
        "**kern\t**kern\n*clefF4\t*clefG2\n*k[b-]\t*k[b-]\n=1\t=1\n4C\t[4g\n=2\t=2\n"
        "*clefG2\t*\n4c\t8g]\n.\tqaa\n.\t8b-\n*-\t*-\n",
        "a.krn",
    )
    assert [(n.clef.name, str(n.written), n.bar, n.is_grace) for n in score.notes] == [
        ("treble", "G4", "1", False), ("bass", "C3", "1", False), ("treble", "C4", "2", False),
        ("treble", "A5", "2", True), ("treble", "Bb4", "2", False),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("sign", "line", "name"),
    [
        ("C", 1, "soprano"), ("C", 2, "mezzo-soprano"), ("C", 3, "alto"), ("C", 4, "tenor"),
        ("C", 5, "baritone"), ("F", 3, "baritone"), ("F", 5, "sub-bass"), ("G", 1, "French violin"),
    ],
)  # fmt: skip
def test_a_note_under_any_clef_has_a_name(sign, line, name):
    """The clefs and their lines are MusicXML 4.0's; their names are from memory."""
    clef = clef_of(sign, line)
    assert clef.name == name
    names = {landmark_name(Pitch(diatonic), clef) for diatonic in range(15, 45)}
    assert len(names) == 30
    assert not any("treble" in told or "bass" in told for told in names)
