"""Where this program and an independent reader of the same file disagree."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import music21

from landmarks.score import Score, place_notes, read_scores
from landmarks.sets import LandmarkSet
from tests import plain_musicxml
from tests.plain_musicxml import Reading, landmark_distance

CORPUS = Path(music21.__file__).parent / "corpus"
ODD_SCORES = Path(music21.__file__).parent / "musicxml" / "lilypondTestSuite"
MUSICXML = {".mxl", ".xml", ".musicxml"}
SIGNS = {32: "G", 24: "F", 28: "C"}


def corpus_files() -> list[Path]:
    """The MusicXML of music21's corpus, the smallest first."""
    files = (path for path in CORPUS.rglob("*") if path.suffix in MUSICXML)
    return sorted(files, key=lambda path: (path.stat().st_size, path.name))


def disagreements(path: Path, landmarks: LandmarkSet) -> Iterator[str]:
    """Read a file of one piece both ways; say in what they differ."""
    (score,) = read_scores(path)
    reading = plain_musicxml.read(path)
    yield from differences(score, reading, landmarks)


def differences(score: Score, reading: Reading, landmarks: LandmarkSet) -> Iterator[str]:
    staves = [(part, n) for part, count in enumerate(reading.staves) for n in range(1, count + 1)]
    ours, theirs = _our_heads(score, staves), _their_heads(reading)
    for name, one, other in (
        ("heads", ours, theirs),
        ("left out", Counter(score.left_out), reading.left_out),
        ("ranges", _our_ranges(score, staves), _their_ranges(reading)),
        ("landmarks", _our_distances(score, landmarks), _their_distances(reading, landmarks)),
    ):
        if one != other:
            few = list((one - other).items())[:2], list((other - one).items())[:2]
            yield f"{name}: ours {few[0]}, plain {few[1]}"


def _our_heads(score, staves):
    heads = Counter()
    for held, notes in ((False, score.notes), (True, score.held)):
        for note in notes:
            clef = (SIGNS[note.clef.pitch.diatonic], note.clef.line)
            heads[
                *staves[note.stave.number - 1], note.bar, note.offset, clef, note.written.letter,
                note.written.alteration, note.written.octave, note.octaves, note.key, note.dots,
                note.is_grace, held,
            ] += 1  # fmt: skip
    return heads


def _their_heads(reading):
    return Counter(
        (head.part, head.stave, reading.bars[head.bar - 1], head.offset, head.clef, head.step,
         head.alter, head.octave, head.octaves, head.key, head.dots, head.grace, head.held)
        for head in reading.heads
    )  # fmt: skip


def _our_ranges(score, staves):
    places = {}
    for note in score.notes:
        places.setdefault(staves[note.stave.number - 1], []).append(note.written.diatonic)
    return Counter((stave, min(own), max(own)) for stave, own in places.items())


def _their_ranges(reading):
    places = {}
    for head in reading.heads:
        if not head.held:
            places.setdefault((head.part, head.stave), []).append(head.diatonic)
    return Counter((stave, min(own), max(own)) for stave, own in places.items())


def _our_distances(score, landmarks):
    return Counter(
        (str(note.anchor.pitch), note.steps) if note.anchor else None
        for note in place_notes(score.notes, landmarks)
    )


def _their_distances(reading, landmarks):
    anchors = [(anchor.clef.name, str(anchor.pitch)) for anchor in landmarks.anchors]
    names = {("G", 2): "treble", ("F", 4): "bass"}
    return Counter(
        landmark_distance(head.diatonic, names.get(head.clef, ""), anchors)
        for head in reading.heads
        if not head.held
    )
