"""The page of a piece shows its first bars, with what is not yet secured in pencil."""

import re
from pathlib import Path

import pytest

from drills.reports.piece_music import piece_music
from drills.reports.piece_page import report_page
from drills.reports.stave_picture import PENCIL_LOOK
from drills.scores.readiness import Cover, readiness
from landmarks.score import read_scores
from landmarks.sets import built_in_sets
from landmarks.translation import activate

SCORES = Path(__file__).parents[3] / "sample_sessions" / "scores"
FIVE = built_in_sets()["five"]


@pytest.fixture(autouse=True)
def _english_again():
    yield
    activate()


def told(path, secured=()):
    (score, *_others) = read_scores(path)
    return readiness(score, FIVE, secured, lambda card: None)


@pytest.mark.parametrize("path", sorted(SCORES.glob("*.musicxml")), ids=lambda path: path.stem)
def test_every_head_that_is_not_secured_is_in_pencil_and_no_other(path):
    piece = told(path)
    everything = [note.card for note in piece.notes if note.card]
    unread, read = piece_music(path, None, piece), piece_music(path, None, told(path, everything))
    assert str(unread.picture).count(PENCIL_LOOK) >= 8
    assert PENCIL_LOOK not in read.picture
    assert "data-note" not in unread.picture
    assert read.landmarks is None
    assert unread.landmarks.startswith('<svg class="landmarks"')


def test_the_landmarks_shown_are_those_of_the_notes_in_pencil():
    piece = told(SCORES / "two-kites.musicxml")
    music = piece_music(SCORES / "two-kites.musicxml", None, piece)
    first_bars = {note.anchor.pitch for note in piece.notes if note.cover is not Cover.SECURED}
    names = re.search(r'aria-label="On the grand stave: ([^"]*)"', music.landmarks)[1].split(", ")
    assert 0 < len(names) <= len(first_bars)


def test_the_bars_go_by_the_title_and_their_printed_numbers_in_the_readers_language(tmp_path):
    path = tmp_path / "some-file.abc"
    path.write_text("X:1\nT:A Small Hill\nM:3/4\nL:1/4\nK:C\nG|CDE|FGA|GFE|D2G|\n")
    piece = told(path)
    assert piece_music(path, None, piece).bars == "A Small Hill, bars 0 to 3"
    assert "some-file" not in report_page("t", [], piece_music(path, None, piece))


def test_the_tune_that_is_asked_for_is_the_one_that_is_shown(tmp_path):
    path = tmp_path / "book.abc"
    path.write_text(
        "X:1\nT:One\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|\n\nX:2\nT:Two\nM:4/4\nL:1/4\nK:C\nGABc|cBAG|\n"
    )
    piece = readiness(read_scores(path)[1], FIVE, (), lambda card: None)
    assert piece_music(path, 2, piece).bars.startswith("Two, bar")


def test_a_file_of_no_bars_has_a_page_without_a_picture(tmp_path):
    path = tmp_path / "empty.abc"
    path.write_text("X:1\nT:Nothing\nK:C\n\n")
    assert piece_music(path, None, told(SCORES / "two-kites.musicxml")) is None
