"""The review looks at a pupil with the same eyes as her practice does."""

from __future__ import annotations

import logging
from datetime import UTC, datetime

import pytest

from drills.app.demonstration import NICKNAME, prepare_demonstration
from drills.app.practice_context import practice_context
from drills.app.progress import CancelledError, Progress
from drills.app.review import review
from drills.app.session_clock import SessionClock
from drills.storage.settings import Settings, write_settings
from drills.storage.studio import Studio
from tests.faults.pupil import recorded_session

EVENING = datetime(2026, 3, 2, 20, tzinfo=UTC)


@pytest.fixture
def studio(tmp_path):
    return Studio(tmp_path / "studio")


def names_of(studio, nickname="Robin"):
    (told,) = review(studio, nickname, EVENING).pupils
    return {(note.card.clef.name, str(note.card.target)) for note in told.notes}


def own_set(folder, *notes):
    file = folder / "mine.toml"
    anchors = ", ".join(
        f'{{ clef = "bass", note = "{note}", steps_below = 0, steps_above = 0 }}' for note in notes
    )
    file.write_text(f"anchors = [{anchors}]")
    return file


def test_a_teachers_own_set_is_reviewed_before_and_after_practice_and_not_the_default_one(
    studio, tmp_path
):
    own = str(own_set(tmp_path, "C2", "G2"))
    pupil = studio.pupil(NICKNAME)
    write_settings(Settings(landmarks=own), pupil)
    notes = {("bass", "C2"), ("bass", "G2")}
    assert names_of(studio, NICKNAME) == notes
    prepared = prepare_demonstration(studio.folder, practice_context(pupil), seed=1)
    prepared.play_at_once()
    prepared.recorder.close()
    (told,) = review(studio, NICKNAME, prepared.clock.now()).pupils
    assert {(note.card.clef.name, str(note.card.target)) for note in told.notes} == notes
    assert any(note.answers for note in told.notes)


def test_the_steps_that_a_teacher_set_are_reviewed_as_well(studio):
    pupil = studio.pupil("Robin")
    usual = names_of(studio)
    write_settings(Settings(steps=0), pupil)
    assert names_of(studio) < usual


def test_a_set_that_has_gone_is_told_of_and_blocks_nobodys_review(studio, tmp_path, caplog):
    for nickname in ("Robin", "Wren"):
        studio.pupil(nickname)
    gone = tmp_path / "gone.toml"
    write_settings(Settings(landmarks=str(gone)), studio.pupil("Robin"))
    with caplog.at_level(logging.WARNING, "landmark-drills"):
        told = review(studio, None, EVENING)
    assert [pupil.nickname for pupil in told.pupils] == ["Robin", "Wren"]
    assert str(gone) in caplog.text
    assert "the usual notes are reviewed meanwhile" in caplog.text


def test_progress_is_told_file_by_file_and_a_review_can_be_stopped(studio):
    for number in (1, 2, 3):
        clock = SessionClock(datetime(2026, 3, number, 16, tzinfo=UTC), 0)
        recorded_session(studio, "Robin", number, clock=clock)
    seen = []
    progress = Progress(lambda done, steps: seen.append((done, steps)))
    review(studio, "Robin", EVENING, progress=progress)
    assert seen == [(1, 3), (2, 3), (3, 3)]

    def stop_after_one(done, steps):
        seen.append(done)
        progress.cancelled.set()

    seen.clear()
    progress = Progress(stop_after_one)
    with pytest.raises(CancelledError):
        review(studio, "Robin", EVENING, progress=progress)
    assert seen == [1]
