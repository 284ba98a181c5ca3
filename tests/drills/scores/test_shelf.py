"""A shelf in its order: what is secured first, then signs, then note values; stopped in between."""

from datetime import UTC, datetime

import pytest

from drills.scores.knowledge import Knowledge
from drills.scores.shelf import ShelfPiece, ranked, read_shelf, scores_in
from landmarks.score import read_scores
from landmarks.sets import built_in_sets

NOW = datetime(2026, 3, 4, 17, tzinfo=UTC)
FIVE = built_in_sets()["five"]
HEAD = "X:1\nT:{name}\nM:4/4\nL:1/4\nK:{key}\n{notes}|\n"


@pytest.fixture
def order(tmp_path):
    """Return what puts tunes, given as key and notes by name, into the order of a shelf."""

    def put(**tunes):
        pieces = []
        for name, (key, notes) in tunes.items():
            path = tmp_path / f"{name}.abc"
            path.write_text(HEAD.format(name=name, key=key, notes=notes), encoding="utf-8")
            (score,) = read_scores(path)
            readiness = Knowledge([score], FIVE, NOW, None).readiness(score)
            pieces.append(ShelfPiece(name, readiness))
        return [piece.name for piece in ranked(pieces)]

    return put


def test_a_tune_that_is_secured_comes_before_one_full_of_signs(order):
    """Without a pupil the landmarks C, G and c of the treble stave count as secured."""
    chorale = "C", "^FG^GA^FG_BA"
    assert order(chorale=chorale, folk=("C", "CGGc DGCC")) == ["folk", "chorale"]


def test_of_two_tunes_as_secured_the_one_without_signs_comes_first(order):
    assert order(a=("C", "CG^Gc"), b=("C", "CGAc")) == ["b", "a"]
    assert order(a=("D", "CGFc"), b=("C", "CGFc")) == ["b", "a"]


def test_of_two_tunes_with_the_same_notes_the_plainer_rhythm_comes_first(order):
    assert order(a=("C", "C/G3/2c2"), b=("C", "CGcG")) == ["b", "a"]


def test_a_sharp_beside_a_secured_note_is_not_one_step_from_it(tmp_path):
    path = tmp_path / "kite.abc"
    path.write_text(HEAD.format(name="Kite", key="C", notes="G^GA^A"), encoding="utf-8")
    (score,) = read_scores(path)
    piece = Knowledge([score], FIVE, NOW, None).readiness(score)
    assert (piece.secured, piece.one_step, piece.accidentals) == (1, 1, 2)


def test_a_shelf_that_is_stopped_keeps_what_it_read(tmp_path):
    for name in "abc":
        text = HEAD.format(name=name, key="C", notes="CDEF")
        (tmp_path / f"{name}.abc").write_text(text, encoding="utf-8")
    answers = iter([True, False])
    scores, unreadable, waiting = read_shelf(scores_in(tmp_path), tmp_path, lambda: next(answers))
    assert (list(scores), unreadable, waiting) == (["a.abc", "b.abc"], (), 1)
