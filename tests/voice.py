"""A program in place of the machine's voice, which writes down what it was to speak."""

from __future__ import annotations

import sys
import time
from pathlib import Path

VOICE = """\
#!{python}
import os, sys, time
words = sys.stdin.buffer.read().decode()
with open({log!r}, "a", encoding="utf-8") as log:
    print(os.getpid(), " ".join(sys.argv[1:]), words, sep="|", file=log, flush=True)
time.sleep({seconds})
"""


class Voice:
    """A program on the PATH in place of the machine's voice, that writes down what it speaks."""

    def __init__(self, folder: Path, seconds: float) -> None:
        self.log = folder / "spoken"
        self.path = folder / "espeak-ng"
        self.path.write_text(
            VOICE.format(python=sys.executable, log=str(self.log), seconds=seconds)
        )
        self.path.chmod(0o700)

    def lines(self) -> list[list[str]]:
        """What was spoken: number of the process, arguments, words."""
        text = self.log.read_text("utf-8") if self.log.exists() else ""
        return [line.split("|") for line in text.splitlines()]

    def wait_for(self, count: int) -> list[list[str]]:
        """Wait until so much was spoken."""
        deadline = time.monotonic() + 20
        while len(self.lines()) < count:
            assert time.monotonic() < deadline, self.lines()
            time.sleep(0.01)
        return self.lines()
