from datetime import timedelta

import pytest

from drills.review import each_pupil
from drills.review.each_pupil import SessionFiles, review_pupils
from tests.drills.review.conftest import EVENING


@pytest.fixture
def sample_files(reviewed_studio):
    studio, _ = reviewed_studio(0)
    return [SessionFiles(pupil.nickname, tuple(pupil.session_files())) for pupil in studio.pupils()]


@pytest.fixture
def many_files(monkeypatch):
    """Take any number of files for enough to be shared out."""
    monkeypatch.setattr(each_pupil, "FEW_FILES", 0)


@pytest.mark.usefixtures("many_files")
def test_the_cores_share_out_the_pupils_and_tell_the_same(sample_files):
    advanced = {1: 0, 3: 0}

    def reviewed_on(cores):
        def advance():
            advanced[cores] += 1

        return review_pupils(sample_files, EVENING, EVENING - timedelta(9), advance, cores)

    assert reviewed_on(3) == reviewed_on(1)
    assert advanced[1] == advanced[3] == sum(len(pupil.paths) for pupil in sample_files)


@pytest.mark.usefixtures("many_files")
def test_a_file_that_cannot_be_read_is_named_from_any_core(sample_files, tmp_path):
    gone = tmp_path / "2026-01-31T16-00-00_01234567.jsonl"
    reviews = review_pupils([*sample_files, SessionFiles("Fern", (gone,))], EVENING, cores=2)
    assert reviews[-1].unreadable == (gone.name,)
    assert len(reviews) == len(sample_files) + 1


def test_a_small_studio_begins_no_processes(sample_files, monkeypatch):
    monkeypatch.setattr(each_pupil, "ProcessPoolExecutor", None)
    assert len(review_pupils(sample_files, EVENING, cores=8)) == len(sample_files)
