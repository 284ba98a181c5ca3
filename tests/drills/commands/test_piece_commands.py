"""The commands piece and pieces, as a teacher types them."""

import argparse
import json
import shutil
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from drills.app.user_error import UserError
from drills.commands import piece, pieces
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.scores.knowledge import Knowledge
from drills.scores.reading import lines_in_time
from drills.scores.shelf import read_shelf, scores_in
from drills.simulation.pupils.beginner import Beginner
from drills.storage.plan import read_plan
from drills.storage.prior_knowledge_file import write_observations
from drills.storage.studio import Studio
from landmarks.score import ScoreError, read_scores
from landmarks.sets import built_in_sets
from tests.drills.learning.ladder.beginners import Course
from tests.scripted_drill import FIVE

SAMPLE = Path(__file__).parents[3] / "sample_sessions"
KITES = SAMPLE / "scores" / "two-kites.musicxml"
FENCE = SAMPLE / "scores" / "fence-and-gate.musicxml"
DAY = "2026-10-30"


def run(command, *arguments):
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    return command.run(parser.parse_args([str(argument) for argument in arguments]))


@pytest.fixture
def studio(tmp_path):
    shutil.copytree(SAMPLE / "Marlow", tmp_path / "studio" / "Marlow")
    return tmp_path / "studio"


def test_a_piece_is_told_in_a_teachers_words(capsys):
    assert run(piece, KITES) == 0
    told = capsys.readouterr().out
    assert told.startswith("Two Kites: 26 notes to read, 13 different\n")
    assert "right  treble  14     7          middle C  treble C" in told
    assert "treble A                right  3      1          1 step above treble G" in told
    assert "Sharps and flats: none." in told
    assert "This week: treble A, treble B," in told


def test_for_a_pupil_the_states_are_told(studio, capsys):
    assert run(piece, FENCE, "--pupil", "marlow", "--studio", studio, "--on", DAY) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Marlow has 17 (65%) of its notes secured; 2 (8%) lie one step" in told
    assert "treble F sharp (2 by the key signature)" in told
    assert "treble B flat (1 by a sign of its own)" in told


def test_the_weeks_cards_go_into_the_home_plan(studio, capsys):
    run(piece, FENCE, "--pupil", "Marlow", "--studio", studio, "--on", DAY, "--plan")
    assert "The home plan, 10 cards, 8 minutes a day" in capsys.readouterr().out
    path = studio / "Marlow" / "Marlow.plan.json"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    asked = read_plan(path).asked(built_in_sets()["five"])
    sharp = next(card for card in asked if card.id == "piece/treble/F#4")
    assert str(sharp.anchor) == "G4"


def test_programs_get_it_as_json(studio, tmp_path, capsys):
    file = tmp_path / "out.json"
    run(piece, FENCE, "--pupil", "Marlow", "--studio", studio, "--on", DAY, "--json", file)
    (told,) = json.loads(file.read_text())
    assert (told["title"], told["heads"], told["secured"]) == ("Fence and Gate", 26, 17)
    assert sum(note["heads"] for note in told["notes"]) == 26
    run(pieces, SAMPLE / "scores", "--json", file)
    assert [told["title"] for told in json.loads(file.read_text())] == [
        "Two Kites", "Fence and Gate",
    ]  # fmt: skip


def test_a_piece_counts_what_a_beginner_brings_as_her_practice_does(tmp_path):
    monday = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
    nothing = Observations(pupil="Piper")
    piper = nothing.seen("reads-for", "recorder", monday)
    piper = piper.seen("key-names", "yes", monday)
    player = Beginner(1, shapes=0.95, name=0.97, place=0.97, treble=0.95, bass=0.1, steps=0.8)
    course = Course(tmp_path / "studio", piper, player)
    (score,) = read_scores(KITES)
    file = tmp_path / "out.json"

    def states(evening, brings):
        known = Knowledge([score], FIVE, evening, course.pupil.responses(), brought=brings)
        return [str(known.state(note.card)) for note in known.readiness(score).notes]

    for day in range(4):
        course.day(monday + timedelta(days=day), seed=day)
        evening = datetime(2026, 3, 2 + day, 23, 59, 59, tzinfo=UTC)
        alone, with_brought = (
            states(evening, prior_knowledge_of(nothing)),
            states(evening, prior_knowledge_of(piper)),
        )
        if alone != with_brought:
            break
    assert alone != with_brought
    given = ("--pupil", "Piper", "--studio", course.studio.folder, "--on", evening.date())

    def told(command, *scores):
        run(command, *scores, *given, "--json", file)
        return [n["state"] for p in json.loads(file.read_text()) for n in p["notes"]]

    shelf_alone = told(pieces, SAMPLE / "scores")
    assert told(piece, KITES) == alone
    write_observations(piper, course.pupil)
    assert told(piece, KITES) == with_brought
    assert told(pieces, SAMPLE / "scores") != shelf_alone


def test_a_shelf_is_ranked_and_what_cannot_be_read_is_named_at_its_end(tmp_path, capsys):
    shelf = tmp_path / "shelf"
    shutil.copytree(SAMPLE / "scores", shelf / "deeper")
    (shelf / "torn.mxl").write_bytes(b"PK torn")
    (shelf / "letter.txt").write_text("no score, and no ending of one")
    assert run(pieces, shelf) == 0
    told = capsys.readouterr().out
    assert told.index("Two Kites") < told.index("Fence and Gate") < told.index("Not read:")
    assert "Ranked by" in told
    assert "torn.mxl: this compressed file is damaged" in " ".join(told.split())
    assert "letter" not in told


def test_a_sentence_tells_what_cannot_be_done(tmp_path, studio):
    book = tmp_path / "book.abc"
    book.write_text("X:1\nK:C\nC|\n\nX:2\nK:D\nz|\n")
    wrong = {
        (piece, tmp_path / "none.xml"): "no such file",
        (piece, KITES, "--plan"): "for one pupil",
        (piece, KITES, "--pupil", "Nobody", "--studio", studio): "holds no 'Nobody'",
        (piece, KITES, "--set", tmp_path / "none.toml"): "no such set",
        (piece, book): "holds 2 tunes; name one with --tune 1 to 2",
        (piece, book, "--tune", 3): "holds no tune 3",
        (piece, book, "--tune", 2): "holds no notes",
        (pieces, tmp_path / "none"): "no such folder",
        (pieces, studio): "holds no scores",
    }
    for (command, *arguments), sentence in wrong.items():
        with pytest.raises(UserError, match=sentence) as refusal:
            run(command, *arguments)
        assert "\n" not in str(refusal.value)
    assert [pupil.nickname for pupil in Studio(studio).pupils()] == ["Marlow"]


def test_one_tune_of_a_book_is_told(tmp_path, capsys):
    book = tmp_path / "book.abc"
    book.write_text("X:1\nT:One\nK:C\nC|\n\nX:2\nT:Two\nK:D\nF|\n")
    assert run(piece, book, "--tune", 2) == 0
    assert capsys.readouterr().out.startswith("Two: 1 note to read, 1 different")


def test_a_score_that_takes_too_long_is_left_and_the_others_of_its_shelf_are_read(tmp_path):
    tunes = (f"X:{n}\nM:4/4\nL:1/8\nK:C\n{'CDEFGABc|' * 12}\n\n" for n in range(1, 301))
    (tmp_path / "b-endless.abc").write_text("".join(tunes))
    for name in ("a", "c"):
        shutil.copy(KITES, tmp_path / f"{name}-kites.musicxml")
    scores, unreadable, waiting = read_shelf(scores_in(tmp_path), tmp_path, seconds=6)
    assert list(scores) == ["a-kites.musicxml", "c-kites.musicxml"]
    assert waiting == 0
    (sentence,) = unreadable
    assert "b-endless.abc: this score was not read within 6 seconds" in sentence


def test_lines_of_a_score_that_takes_too_long_are_refused_in_one_sentence():
    with pytest.raises(ScoreError, match="was not read within 0 seconds") as refusal:
        next(lines_in_time(KITES, 1, seconds=0.01))
    assert "\n" not in str(refusal.value)
    first = next(lines_in_time(KITES, 1))
    assert first.source.startswith("two-kites.musicxml, bars 1 to")


def test_the_tunes_of_a_book_are_listed(studio, tmp_path, capsys):
    book = tmp_path / "book.abc"
    book.write_text("".join(f"X:{n}\nT:Tune {n}\nK:C\nCDEF|\n\n" for n in (1, 2)))
    assert run(piece, book, "--tunes") == 0
    assert capsys.readouterr().out.splitlines() == ["Tune 1", "Tune 2"]
