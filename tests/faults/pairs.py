"""One of two programs at work on one pupil: says "ready", waits for a line, does its work.

    python -m tests.faults.pairs ACTION STUDIO ZIP SEED

Practice has begun before it says so; everything else begins with the line. Settings are changed
thirty times, each program another entry.
"""

from __future__ import annotations

import sys
from pathlib import Path

from drills.commands import main
from drills.sessions.records import AnsweredRecord
from drills.storage.session_file import read_header
from drills.storage.studio import Studio
from tests.faults.pupil import recorded_session

ACTIONS = ("gather", "forget", "settings", "export", "practise")
CHANGES = 30
ENTRIES = {1: "minutes", 2: "fluent_cap"}
"""What the first and the second program change: both take whole numbers up to thirty."""


def act(action: str, studio: Path, packed: Path, seed: int) -> int:
    """Do the work of one program, and return its status."""
    everyone = ["--studio", str(studio)]
    if action == "practise":
        return _practise(studio, seed)
    _wait()
    if action == "settings":
        words = ["settings", *everyone, "--pupil", "Robin", "--change"]
        return max(main([*words, f"{ENTRIES[seed]}={n}"]) for n in range(1, CHANGES + 1))
    if action == "gather":
        return main(["gather", *everyone, str(packed)])
    if action == "export":
        return main(["export", *everyone, "Robin", str(packed.with_name(f"out{seed}.zip"))])
    return main(["forget", *everyone, "--yes", "Robin"])


def _practise(studio: Path, seed: int) -> int:
    waited = False

    def show(_answer: AnsweredRecord) -> None:
        nonlocal waited
        if not waited:
            waited = True
            _wait()

    path = recorded_session(Studio(studio), "Robin", seed, show)
    read_header(path.read_bytes().splitlines()[0], path)
    return 0


def _wait() -> None:
    print("ready", flush=True)
    sys.stdin.readline()


if __name__ == "__main__":
    sys.exit(act(sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]), int(sys.argv[4])))
