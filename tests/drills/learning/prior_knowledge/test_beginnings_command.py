"""`landmark-drills beginnings` in the terminal."""

import pytest

from drills.commands import main
from drills.learning.prior_knowledge.question import questions
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.studio import Studio


@pytest.fixture
def run(tmp_path, capsys):
    Studio(tmp_path).pupil("Robin")

    def give(*options):
        status = main(["beginnings", "--pupil", "Robin", "--studio", str(tmp_path), *options])
        out, err = capsys.readouterr()
        return status, out, err

    return give


def test_answers_are_set_and_the_terminal_says_where_she_begins_and_why(run):
    status, out, _ = run("--seen", "reads-for=recorder", "--seen", "key-names=yes")
    assert status == 0
    assert "reads notes already, to play or to sing: recorder (" in out
    assert "> bass-landmarks: bass landmarks" in out
    assert (
        "Reads treble from the recorder and plays a key that is named: begin with bass landm" in out
    )


def test_the_teacher_moves_a_pupil_up_and_down(run, tmp_path):
    assert "> one-line" in run("--rung", "up")[1]
    assert "> no-stave" in run("--rung", "down")[1]
    assert "> no-stave" in run("--rung", "down")[1]
    assert "> mixed-clefs" in run("--rung", "mixed-clefs")[1]
    decisions = observations_of(Studio(tmp_path).pupil("Robin")).decisions
    assert [each.rung for each in decisions] == ["one-line", "no-stave", "no-stave", "mixed-clefs"]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--seen", "pulse"), "'' is no answer to pulse; put one of yes, not-yet"),
        (("--seen", "mood=yes"), "'mood' is no question; put one of higher-lower"),
        (("--rung", "attic"), "'attic' is no rung of the ladder; put one of no-stave"),
    ],
)
def test_what_cannot_be_set_is_refused_in_one_sentence(run, tmp_path, options, said):
    status, out, err = run(*options)
    assert (status, out) == (2, "")
    assert err.startswith("landmark-drills: ")
    assert said in err
    assert err.count("\n") == 1
    assert observations_of(Studio(tmp_path).pupil("Robin")) is None


def test_the_sheet_for_parents_is_written(run, tmp_path):
    file = tmp_path / "questions.html"
    assert run("--sheet", str(file))[0] == 0
    assert file.read_text("utf-8").startswith("<!DOCTYPE html>")


def test_a_new_pupil_has_brought_nothing_yet(run):
    status, out, _ = run("--list")
    assert status == 0
    assert out.count("not seen yet") == len(questions())
    assert "She begins at the beginning" in out
