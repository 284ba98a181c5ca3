"""The teacher plays two hands in the real window, stops, goes back, and asks for something."""

import time
from itertools import chain

import pytest

from drills.sessions.timed_session import RIGHT_MS
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from landmarks.excerpt import score_lines
from tests.drills.sessions.reading.test_playing import LEFT, RIGHT
from tests.musicxml import attributes, backup, note, score
from tests.session_schema import hold
from tests.window.program import TIMEOUT, Program, tap

SIZES = [(800, 600), (1024, 768), (1920, 1080)]
BEAT = 0.3
"""Seconds a quarter."""


@pytest.fixture
def piece(tmp_path):
    """A piece of six bars for two hands, in a file."""
    right, left = list(chain.from_iterable(RIGHT)), list(chain.from_iterable(LEFT))
    bars = [
        (attributes(clefs=("G2", "F4")) if not bar else "")
        + "".join(note(name, 1, "quarter") for name in right[4 * bar : 4 * bar + 4])
        + backup(4)
        + "".join(note(name, 2, "half", staff=2) for name in left[2 * bar : 2 * bar + 2])
        for bar in range(6)
    ]
    path = tmp_path / "two hands.musicxml"
    path.write_text(score(*bars), "utf-8")
    return path


def play(piano, line, first=0, last=99):
    """Play the moments of a line from one to another, both hands together."""
    onsets = sorted({each.onset for each in line.notes})[first:last]
    for onset in onsets:
        keys = [each.key for each in line.notes if each.onset == onset]
        for key in keys:
            piano.press(key)
            time.sleep(0.012)
        time.sleep(BEAT - 0.1)
        for key in keys:
            piano.release(key)
        time.sleep(0.1)


@pytest.mark.parametrize(
    ("screen", "size"),
    [(size, size) for size in SIZES],
    indirect=["screen"],
    ids=[f"{width}x{height}" for width, height in SIZES],
)
def test_what_is_asked_for_is_in_the_line_where_she_is(
    scripted_piano, xdotool, piece, tmp_path, screen, size
):
    studio = Studio(tmp_path / "studio")
    studio.pupil("Robin")
    first, second = score_lines(piece)
    program = Program(
        tmp_path / "studio", "play", "--pupil", "Robin", "--score", str(piece), size=size
    )
    try:
        tell_middle_c(scripted_piano, studio, program)
        play(scripted_piano, first)
        play(scripted_piano, second, last=3)
        time.sleep(2)
        play(scripted_piano, first, last=8)
        time.sleep(0.5)
        xdotool("key", "space")
        assert program.wait_for("line")["notes"] == [each.spot for each in first.notes]
        assert program.wait_for("card")["kind"] == "piece"
        xdotool("key", "Escape")
        assert program.wait_for("end")["why"] == "stopped"
        xdotool("key", "Escape")
        time.sleep(1)
        xdotool("key", "Escape")
        assert program.process.wait(20) == 0
        hold(program.path)
        assert read_session(program.path).header.use == "spotting"
    finally:
        program.process.kill()
        program.process.wait()


def tell_middle_c(piano, studio, program):
    """Press middle C until the program knows the piano, and let it go on to the line."""
    deadline = time.monotonic() + TIMEOUT
    while (name := studio.last_piano()) is None or studio.shift_of(name) is None:
        assert time.monotonic() < deadline, "the piano is not known"
        assert program.process.poll() is None, "the program ended"
        tap(piano, 60)
        time.sleep(0.4)
    # It looks at the key that was found for a while, and nothing tells of the line after it.
    time.sleep(RIGHT_MS / 1000 + 0.5)
