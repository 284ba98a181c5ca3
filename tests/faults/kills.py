"""A program killed at any moment: what a pupil saw is in the file, and the next start goes on.

A child process plays sessions and tells each answer, through a pipe that outlives it, once it would
be shown. It is killed with SIGKILL, which no program can catch, after a random time.
"""

from __future__ import annotations

import os
import random
import signal
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from drills.sessions.records import AnsweredRecord
from drills.storage.session_file import SessionFileError, read_session
from drills.storage.studio import Studio
from tests.faults.pupil import recorded_session, told

LONGEST = 0.25
"""Seconds until the latest kill: a few sessions as they are played here."""


@dataclass
class Killed:
    """What came of a number of killed runs."""

    runs: int = 0
    answers_shown: int = 0
    answers_lost: int = 0
    torn_lines: int = 0
    empty_files: int = 0
    failed_starts: int = 0


def kill_runs(runs: int, seed: int = 0) -> Killed:
    """Kill so many runs, each in a studio of its own that is then used again."""
    chance, outcome = random.Random(seed), Killed()
    for number in range(runs):
        with tempfile.TemporaryDirectory() as folder:
            studio = Studio(Path(folder))
            shown = _killed(studio, number, chance.uniform(0, LONGEST))
            _look(studio, shown, outcome)
    return outcome


def _killed(studio: Studio, seed: int, after: float) -> list[str]:
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        with suppress(BaseException):
            while True:
                recorded_session(studio, "Robin", seed, lambda a: _tell(writing, told(a)))
                seed += 1
        os._exit(1)
    os.close(writing)
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the child ended before it was killed"
    with os.fdopen(reading) as pipe:
        return pipe.read().splitlines()


def _tell(pipe: int, line: str) -> None:
    os.write(pipe, line.encode() + b"\n")


def _look(studio: Studio, shown: list[str], outcome: Killed) -> None:
    outcome.runs += 1
    outcome.answers_shown += len(shown)
    kept = []
    for path in studio.folder.glob("*/sessions/*.jsonl"):
        content = path.read_bytes()
        outcome.torn_lines += not content.endswith(b"\n")
        try:
            session = read_session(path)
        except SessionFileError:
            outcome.empty_files += 1
            continue
        kept += [told(event) for event in session.events if isinstance(event, AnsweredRecord)]
    outcome.answers_lost += len(set(shown) - set(kept))
    try:
        again = recorded_session(studio, "Robin", 1)
        assert read_session(again).responses
        assert list(studio.pupil("Robin").responses())
    except Exception:
        outcome.failed_starts += 1
