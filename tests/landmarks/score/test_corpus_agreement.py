"""Scores read through music21 agree with the same files read as plain MusicXML.

The files are music21's own corpus and the test suite of odd MusicXML inside it; the whole corpus
is compared by `python -m tests.bench.corpus`.
"""

import pytest

from landmarks.score import ScoreError
from landmarks.sets import built_in_sets
from tests import plain_musicxml
from tests.score_agreement import CORPUS, ODD_SCORES, corpus_files, disagreements

SETS = built_in_sets()
PIANO = [
    "joplin/maple_leaf_rag.mxl",
    "demos/incorrect_time_signature_pv.mxl",
    "liliuokalani/aloha_oe.mxl",
    "schoenberg/opus19/movement2.mxl",
]
"""Two staves, and in two of them chords over both staves."""
ALWAYS = 110


def test_a_hundred_pieces_and_more_are_read_as_they_stand_in_the_file():
    read, heads = 0, 0
    for path in corpus_files()[:ALWAYS]:
        assert list(disagreements(path, SETS["five"])) == [], path.name
        heads += len(plain_musicxml.read(path).heads)
        read += 1
    assert read >= 100
    assert heads > 5000


@pytest.mark.parametrize("name", PIANO)
def test_piano_pieces_are_read_stave_by_stave(name):
    assert list(disagreements(CORPUS / name, SETS["outward"])) == []


@pytest.mark.parametrize("path", sorted(ODD_SCORES.glob("*.*ml")), ids=lambda path: path.stem)
def test_odd_scores_are_read_rightly_or_refused_for_having_no_notes(path):
    reading = plain_musicxml.read(path)
    if not [head for head in reading.heads if not head.held]:
        with pytest.raises(ScoreError, match="holds no notes"):
            list(disagreements(path, SETS["cs"]))
    else:
        assert list(disagreements(path, SETS["cs"])) == []
