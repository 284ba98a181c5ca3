"""How notes are named: as it is said, or else as the pupil names them at school."""

import argparse
from datetime import UTC, datetime

import pytest

from drills.commands import spot, warm_up
from drills.commands.music import music_of
from drills.commands.what_to_find import questions_of
from drills.learning.prior_knowledge.observations import Observations
from drills.storage.prior_knowledge_file import write_observations
from drills.storage.settings import Settings, write_settings
from drills.storage.studio import Studio
from landmarks.names import FIXED_DO, GERMAN, LETTER

MONDAY = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)


def arguments(command, *words):
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    return parser.parse_args(words)


@pytest.fixture
def singer(tmp_path):
    """A pupil who sings do re mi at school."""
    pupil = Studio(tmp_path).pupil("Lark")
    write_observations(Observations(pupil="Lark").seen("note-names", "sol-fa", MONDAY), pupil)
    return pupil


@pytest.mark.parametrize("command", [warm_up, spot])
def test_the_names_of_the_school_are_used_in_the_warm_up_and_in_spotting(command, singer):
    music = music_of(arguments(command), singer)
    assert music.naming == FIXED_DO


def test_a_singer_is_asked_for_treble_sol_in_a_line(singer):
    given = arguments(spot)
    asked = [question.name for question in questions_of(given, singer, music_of(given, singer))]
    assert "treble sol" in asked


@pytest.mark.parametrize("command", [warm_up, spot])
def test_what_is_said_on_the_command_line_wins_over_the_school(command, singer):
    assert music_of(arguments(command, "--names", "letter"), singer).naming == LETTER


def test_what_the_teacher_set_wins_over_the_school_and_the_command_line_over_both(singer):
    write_settings(Settings(names="german"), singer)
    assert music_of(arguments(warm_up), singer).naming == GERMAN
    assert music_of(arguments(warm_up, "--names", "letter"), singer).naming == LETTER


def test_without_anything_said_notes_have_letters(tmp_path):
    pupil = Studio(tmp_path).pupil("Moth")
    assert music_of(arguments(warm_up), pupil).naming == LETTER


def test_damaged_beginnings_are_told_of_and_passed_over(singer, capsys):
    (singer.folder / "Lark.beginnings.json").write_text("{")
    assert music_of(arguments(warm_up), singer).naming == LETTER
    assert "does not tell what a pupil brings" in capsys.readouterr().err
