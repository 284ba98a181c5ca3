"""What holds for a pupil: what is asked for by hand, or set, or brought from school."""

import logging
from datetime import UTC, datetime

import pytest

from drills.app.practice_context import PracticeOptions, practice_context
from drills.app.spotting_options import NOTES_OF_THE_WEEK, questions_of
from drills.learning.prior_knowledge.observations import Observations
from drills.storage.prior_knowledge_file import write_observations
from drills.storage.settings import Settings, write_settings
from drills.storage.studio import Studio
from landmarks.names import FIXED_DO, GERMAN, LETTER

MONDAY = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)


@pytest.fixture
def singer(tmp_path):
    """A pupil who sings do re mi at school."""
    pupil = Studio(tmp_path).pupil("Lark")
    write_observations(Observations(pupil="Lark").seen("note-names", "sol-fa", MONDAY), pupil)
    return pupil


def test_the_names_of_the_school_are_used(singer):
    assert practice_context(singer).naming == FIXED_DO


def test_a_singer_is_asked_for_treble_sol_in_a_line(singer):
    questions = questions_of(NOTES_OF_THE_WEEK, singer, practice_context(singer), MONDAY)
    assert "treble sol" in [question.name for question in questions]


def test_what_is_asked_for_by_hand_wins_over_the_school(singer):
    assert practice_context(singer, PracticeOptions(names="letter")).naming == LETTER


def test_what_the_teacher_set_wins_over_the_school_and_what_is_asked_by_hand_over_both(singer):
    write_settings(Settings(names="german"), singer)
    assert practice_context(singer).naming == GERMAN
    assert practice_context(singer, PracticeOptions(names="letter")).naming == LETTER


def test_without_anything_said_notes_have_letters(tmp_path):
    assert practice_context(Studio(tmp_path).pupil("Moth")).naming == LETTER


def test_damaged_beginnings_are_told_of_and_passed_over(singer, caplog):
    (singer.folder / "Lark.beginnings.json").write_text("{")
    with caplog.at_level(logging.WARNING, "landmark-drills"):
        assert practice_context(singer).naming == LETTER
    assert "does not tell what a pupil brings" in caplog.text
