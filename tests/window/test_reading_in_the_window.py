"""A pupil reads lines in the real window: slips, a restart, going on, over real MIDI."""

import time

import pytest

from drills.app.practice_context import PracticeOptions, practice_context
from drills.app.reading_options import LINES_OF_THE_WEEK, lines_to_read
from drills.app.session_clock import SessionClock
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from tests.session_schema import hold
from tests.window.program import Program, tap

SEED = 5
SIZES = [(800, 600), (1024, 768), (1920, 1080)]
BEAT = 0.45
"""Seconds a quarter."""


@pytest.fixture
def read(tmp_path, screen):
    started = []

    def start(*options, size=(1024, 768)):
        studio = Studio(tmp_path)
        studio.pupil("Robin")
        studio.remember_piano("piano", 0)
        program = Program(tmp_path, "read", "--pupil", "Robin", *options, seed=SEED, size=size)
        started.append(program)
        return program

    yield start
    for program in started:
        program.process.kill()
        program.process.wait()


def lines(folder, grand=False):
    """The lines that the program shows with this seed."""
    pupil = Studio(folder).pupil("Robin")
    context = practice_context(pupil, PracticeOptions(grand=grand))
    return lines_to_read(LINES_OF_THE_WEEK, pupil, context, SEED, SessionClock().started)


class Player:
    """Plays the notes of a line evenly, so many seconds a quarter."""

    def __init__(self, piano, program, line):
        self.piano, self.program, self.line = piano, program, line

    def play(self, *numbers, beyond=0.0):
        notes = self.line.notes
        for number in numbers:
            before = notes[number - 1].onset if number else notes[number].onset
            time.sleep(max(0.0, float(notes[number].onset - before) * BEAT + beyond - 0.12))
            tap(self.piano, notes[number].key)
            told = self.program.wait_for("note")
            assert told["note"] == number


def tuned(program, piano):
    """Answer the question for middle C, if the piano is not known; give the line."""
    shown = program.wait_for("card", "line")
    if shown["event"] == "line":
        # The line may be on the screen before the piano is found.
        assert program.wait_for("card")["target"] == 60
        time.sleep(0.3)
        tap(piano, 60)
        program.wait_for("piano", change="tuned")
        time.sleep(1.5)
        return shown
    time.sleep(0.3)
    tap(piano, 60)
    return program.wait_for("line")


@pytest.mark.parametrize(
    ("screen", "size"),
    [(size, size) for size in SIZES],
    indirect=["screen"],
    ids=[f"{width}x{height}" for width, height in SIZES],
)
def test_two_lines_with_slips_and_a_restart(read, scripted_piano, xdotool, tmp_path, size):
    program = read(size=size)
    shown = tuned(program, scripted_piano)
    first, second = (line for line, _n in zip(lines(tmp_path), range(2), strict=False))
    assert (shown["notes"], shown["hands"]) == ([note.spot for note in first.notes], "both")
    player = Player(scripted_piano, program, first)
    count = len(first.notes)
    time.sleep(0.5)
    player.play(0, 1, 2)
    wrong = first.notes[3].pitch.stepped(-3).midi
    tap(scripted_piano, wrong)
    assert program.wait_for("wrong-key")["played"] == wrong
    player.play(3)
    player.play(*range(4, count - 1))
    player.play(count - 1)
    assert program.wait_for("line-end")["why"] == "played"
    answers = {line["note"]: line for line in program.lines() if line["event"] == "line-answer"}
    assert sorted(answers) == list(range(count))
    assert answers[3]["verdict"] != "exact"
    xdotool("key", "space")
    assert program.wait_for("line")["notes"] == [note.spot for note in second.notes]
    player = Player(scripted_piano, program, second)
    time.sleep(0.5)
    player.play(0, 1, 2, 3)
    # The first note of a restart may be a slip as well; the ones after it tell.
    time.sleep(1)
    for number in (0, 1, 2):
        tap(scripted_piano, second.notes[number].key)
        time.sleep(BEAT)
    assert program.wait_for("note", note=2)["way"] == "on"
    player.play(*range(3, len(second.notes)))
    assert program.wait_for("line-end")["why"] == "played"
    xdotool("key", "Escape")
    assert program.wait_for("end")["why"] == "stopped"
    xdotool("key", "Escape")
    assert program.process.wait(10) == 0
    hold(program.path)
    session = read_session(program.path)
    assert (session.header.use, session.responses) == ("reading", ())
    assert len(session.line_answers) == count + len(second.notes)
