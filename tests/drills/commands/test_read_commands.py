"""`read` and `play`: which lines are read, and what cannot be is told in one sentence."""

from itertools import islice

import pytest

from drills.app.practice_context import PracticeOptions, practice_context
from drills.app.reading_options import (
    ReadingOptions,
    lines_of_score,
    lines_to_read,
    pages_in_line,
)
from drills.app.session_clock import SessionClock
from drills.app.user_error import UserError
from drills.commands import main
from drills.sessions.spotting.question import wanted_in
from drills.storage.studio import Studio
from tests.musicxml import attributes, note, score


@pytest.fixture
def pupil(tmp_path):
    return Studio(tmp_path / "studio").pupil("Robin")


@pytest.fixture
def melody(tmp_path):
    """Six bars for the right hand alone."""
    bars = [
        (attributes(clefs=("G2",)) if not bar else "")
        + "".join(note(name, 1, "quarter") for name in ("D5", "E5", "D5", "F5"))
        for bar in range(6)
    ]
    path = tmp_path / "melody.musicxml"
    path.write_text(score(*bars), "utf-8")
    return path


def test_invented_lines_go_on_without_end_and_are_the_same_with_the_same_seed(pupil):
    context = practice_context(pupil, PracticeOptions(grand=True))
    now = SessionClock().started

    def some(seed):
        lines = lines_to_read(ReadingOptions(), pupil, context, seed, now)
        return [line.musicxml for line in islice(lines, 12)]

    assert some(3) == some(3) != some(4)
    assert len(set(some(3))) > 6


def test_a_score_is_read_a_few_bars_at_a_time_from_a_bar_on(melody):
    assert [line.source for line in lines_of_score(melody, 1, "both")] == [
        "melody.musicxml, bars 1 to 4", "melody.musicxml, bars 5 to 6",
    ]  # fmt: skip
    assert [line.source for line in lines_of_score(melody, 5, "right")] == [
        "melody.musicxml, bars 5 to 6"
    ]


@pytest.mark.parametrize("bar", [0, 7])
def test_a_bar_that_is_not_there_is_told(melody, bar):
    with pytest.raises(UserError, match="it has bars 1 to 6"):
        lines_of_score(melody, bar, "both")


@pytest.mark.parametrize("command", ["read", "play"])
def test_a_score_that_is_none_is_told_in_one_sentence(command, pupil, tmp_path, capsys):
    path = tmp_path / "no score.xml"
    path.write_text("<hello/>", "utf-8")
    studio = ["--studio", str(tmp_path / "studio")]
    assert main([command, "--pupil", "Robin", *studio, "--score", str(path)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert str(path) in said.err


def test_something_is_found_in_every_line(pupil, melody):
    context = practice_context(pupil)
    for line in lines_of_score(melody, 1, "both"):
        (page,) = pages_in_line(line, context)
        assert page.line is line
        assert all(wanted_in(line, question) for question in page.questions)
