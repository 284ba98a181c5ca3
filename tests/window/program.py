"""The program as a family runs it, in a window, and its session file as it grows."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

from tests.machine import frame_on

SIZE = (1024, 768)
TIMEOUT = 60


class Program:
    """A command in the window of the X server that DISPLAY names."""

    def __init__(self, studio, *arguments, pupil="Robin", seed=1, size=SIZE, before=""):
        """Start it; `before` is run in its process first, to make something in it fail."""
        self._sessions = Path(studio) / pupil / "sessions"
        self._earlier = len(list(self._sessions.glob("*.jsonl")))
        command = f"{before}\nimport sys; from drills.commands import main; sys.exit(main())"
        shape = "x".join(map(str, size))
        options = ["--studio", str(studio), "--size", shape, "--seed", str(seed)]
        self.process = subprocess.Popen([sys.executable, "-c", command, *arguments, *options])
        self._line = 0

    @property
    def path(self):
        files = sorted(self._sessions.glob("*.jsonl"), key=os.path.getmtime)
        return files[-1] if len(files) > self._earlier else None

    def lines(self):
        return [json.loads(line) for line in self.path.read_text().splitlines()[1:]]

    def wait_for(self, *kinds, **fields):
        """Wait for the next line of these kinds after the last one that was waited for."""
        deadline = time.monotonic() + TIMEOUT
        while time.monotonic() < deadline:
            found = self.lines() if self.path else []
            for number, line in enumerate(found[self._line :], self._line + 1):
                if line["event"] in kinds and fields.items() <= line.items():
                    self._line = number
                    return line
            assert self.process.poll() is None, "the program ended"
            time.sleep(0.01)
        raise AssertionError(f"no {kinds} {fields} in the session file")

    def close(self):
        self.process.terminate()
        assert self.process.wait(10) == 0


def until(happened):
    """Look again and again until something has happened; give what it gave."""
    deadline = time.monotonic() + TIMEOUT
    while not (found := happened()):
        assert time.monotonic() < deadline
        time.sleep(0.05)
    return found


def still(display):
    """Wait until the screen stands still, and give what is on it."""
    deadline, seen = time.monotonic() + TIMEOUT, b""
    while (now := frame_on(display)) != seen:
        assert time.monotonic() < deadline
        seen = now
        time.sleep(0.15)
    return seen


def tap(piano, key):
    """Press a key of the scripted piano and let it up."""
    piano.press(key)
    time.sleep(0.09)
    piano.release(key)
    time.sleep(0.03)
