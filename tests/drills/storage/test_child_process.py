"""A process that reads for the program does not outlive it, however the program ends."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[3]

_PARENT = """
import os, time
from functools import partial
from drills.scores.timeout_process import run_with_timeout

def endless():
    yield os.getpid()
    while True:
        pass

if __name__ == "__main__":
    items = run_with_timeout(endless, 60)
    print(next(items), flush=True)
    next(items)
"""


@pytest.mark.parametrize("way", [signal.SIGKILL, signal.SIGTERM])
def test_a_reader_that_is_busy_ends_when_the_program_does(way, tmp_path):
    script = tmp_path / "program.py"
    script.write_text(_PARENT)
    program = subprocess.Popen(
        [sys.executable, str(script)], stdout=subprocess.PIPE, text=True, cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    try:
        reader = int(program.stdout.readline())
        program.send_signal(way)
        program.wait(10)
        deadline = time.monotonic() + 10
        while _is_alive(reader):
            assert time.monotonic() < deadline
            time.sleep(0.01)
    finally:
        program.kill()
        program.wait()


def _is_alive(process):
    """Whether a process runs; one that has ended and is not waited for yet does not."""
    try:
        told = Path(f"/proc/{process}/stat").read_text()
        return told.rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False
