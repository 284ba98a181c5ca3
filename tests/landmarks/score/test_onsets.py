"""Onsets and keys of notes against two independent readers: music21's own streams, and mido.

The works are music21's corpus: chorales with ties, pickups and several voices, a string quartet
with grace notes and tuplets, ragtime on two staves, dances with repeats. Not among them are files
whose parts do not add up (haydn/opus74no1/movement3): there music21 lets the parts drift apart
from the first bar that is too long in one of them, and here the bars stay together.
"""

from collections import Counter
from fractions import Fraction

import mido
import pytest
from music21 import converter, corpus

from landmarks.score import read_scores
from tests.score_agreement import CORPUS

WORKS = [
    *(f"bach/bwv{number}.mxl" for number in (
        "1.6", "2.6", "3.6", "4.8", "5.7", "6.6", "7.7", "8.6", "9.7", "10.7", "11.6", "12.7",
        "13.6", "14.5", "16.6", "17.7", "18.5-lz", "19.7", "20.7", "244.3", "253", "254", "255",
        "256", "257", "258",
    )),
    "joplin/maple_leaf_rag.mxl",
    "liliuokalani/aloha_oe.mxl",
    "schoenberg/opus19/movement2.mxl",
    "mozart/k155/movement2.mxl",
    "corelli/opus3no1/1grave.xml",
    "schumann_clara/opus17/movement3.xml",
]  # fmt: skip
PRESENT = [work for work in WORKS if (CORPUS / work).exists()]


def as_music21_has_them(score):
    """Count (onset, written key) of the heads that continue no tie, grace notes included."""
    heads = Counter()
    for element in score.recurse().notes:
        if "Harmony" in element.classSet:
            continue
        onset = Fraction(element.getOffsetInHierarchy(score)).limit_denominator(1000)
        for head in getattr(element, "notes", None) or [element]:
            if head.tie is None or head.tie.type not in ("stop", "continue"):
                heads[onset, head.pitch.midi] += 1
    return heads


def test_the_works_are_there():
    assert len(PRESENT) >= 30


@pytest.mark.parametrize("work", PRESENT)
def test_notes_begin_where_music21_has_them_and_on_its_keys(work):
    path = CORPUS / work
    (score,) = read_scores(path)
    ours = Counter((note.onset.limit_denominator(1000), note.key) for note in score.notes)
    theirs = as_music21_has_them(converter.parse(path, forceSource=True))
    assert ours == theirs


@pytest.mark.parametrize(
    "work", ["bach/bwv1.6.mxl", "bach/bwv253.mxl", "joplin/maple_leaf_rag.mxl"]
)
def test_notes_of_a_midi_file_begin_where_mido_counts_them(work, tmp_path):
    path = tmp_path / "work.mid"
    corpus.parse(work).write("midi", path)
    file, heads = mido.MidiFile(path), Counter()
    for track in file.tracks:
        ticks = 0
        for message in track:
            ticks += message.time
            if message.type == "note_on" and message.velocity:
                heads[Fraction(ticks, file.ticks_per_beat), message.note] += 1
    (score,) = read_scores(path)
    ours = Counter((note.onset, note.key) for note in score.notes)
    late = {begin for begin, _key in heads} ^ {begin for begin, _key in ours}
    assert ours == heads, sorted(late)[:5]
