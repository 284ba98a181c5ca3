"""The next start says what it found of a session that was cut short."""

import pytest

from drills.storage.studio import Studio
from drills.storage.unfinished_session import describe_unfinished
from tests.faults.pupil import recorded_session


@pytest.fixture
def pupil(tmp_path):
    return Studio(tmp_path).pupil("Robin")


def session(pupil, **options):
    return recorded_session(Studio(pupil.folder.parent), "Robin", 1, **options)


def test_a_new_pupil_and_a_session_that_ended_are_no_news(pupil):
    assert describe_unfinished(pupil) is None
    session(pupil)
    assert describe_unfinished(pupil) is None


def test_a_session_cut_in_the_middle_of_a_line_is_told_with_what_is_kept(pupil):
    seen = []
    path = session(pupil, show=seen.append)
    content = path.read_bytes()
    third = content.index(b'"event":"answer"')
    for _ in range(2):
        third = content.index(b'"event":"answer"', third + 1)
    path.write_bytes(content[: third + 20])
    assert "its 2 answers are kept up to the last whole line" in describe_unfinished(pupil)


def test_an_empty_file_is_told_too_and_older_ones_are_not(pupil):
    path = session(pupil)
    (path.parent / "2020-01-01T16-00-00_00000000.jsonl").touch()
    assert describe_unfinished(pupil) is None
    path.write_bytes(b"")
    assert "nothing can be read" in describe_unfinished(pupil)
