"""The real window, killed while a pianist answers: what was drawn is in the file."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import suppress
from pathlib import Path

from drills.sessions.records import AnsweredRecord
from drills.storage.session_file import SessionFileError, read_session
from tests.faults.kills import Killed
from tests.faults.pupil import told
from tests.machine import ScriptedPiano

_WATCHED = """
import sys
from drills.sessions import records
from drills.storage import recorder
from drills.sessions import practice
from drills.commands import main
from drills.window import window
practice.RIGHT_MS = practice.RIGHT_AFTER_HELP_MS = 100.0
answers, carry_out, update = [], recorder.Recorder.carry_out, window.pygame.display.update
def watched_effect(self, effect):
    carry_out(self, effect)
    record = getattr(effect, "record", None)
    if isinstance(record, records.CardAskedRecord):
        print("CARD", record.target, flush=True)
    if isinstance(record, records.AnsweredRecord):
        answers.append(f"{record.t} {record.id} {record.played}")
def watched_frame(rectangles):
    update(rectangles)
    while answers:
        print("SEEN", answers.pop(0), flush=True)
recorder.Recorder.carry_out = watched_effect
window.pygame.display.update = watched_frame
sys.exit(main())
"""


def kill_windows(runs: int, seed: int = 0) -> Killed:
    """Kill so many windows; an X server and a JACK server must be there."""
    chance, outcome = random.Random(seed), Killed()
    for number in range(runs):
        with tempfile.TemporaryDirectory() as folder:
            seen = _killed(Path(folder), number, chance.uniform(0.0, 3.0))
            outcome.runs += 1
            outcome.answers_shown += len(seen)
            outcome.answers_lost += len(set(seen) - set(_kept(Path(folder), outcome)))
    return outcome


def _killed(folder: Path, seed: int, after: float) -> list[str]:
    piano = ScriptedPiano(f"killed-{os.getpid()}-{seed}")
    process = subprocess.Popen(
        [sys.executable, "-c", _WATCHED, "practise", "--studio", str(folder), "--seed", str(seed),
         "--pupil", "Robin"],
        stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert process.stdout
    seen: list[str] = []
    timer = None
    for line in process.stdout:
        word, _, rest = line.strip().partition(" ")
        if word == "SEEN":
            seen.append(rest)
        elif word == "CARD":
            if timer is None:
                timer = threading.Timer(after, process.kill)
                timer.start()
            time.sleep(0.16)
            piano.press(int(rest))
            piano.release(int(rest))
    process.wait()
    piano.close()
    return seen


def _kept(folder: Path, outcome: Killed) -> list[str]:
    kept = []
    for path in folder.glob("*/sessions/*.jsonl"):
        outcome.torn_lines += not path.read_bytes().endswith(b"\n")
        with suppress(SessionFileError):
            kept += [told(e) for e in read_session(path).events if isinstance(e, AnsweredRecord)]
    return kept
