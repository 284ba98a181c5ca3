"""Hours of practice in the real window: memory, handles, and frames that took too long.

    python -m tests.bench.long_use --cards 8500

The window, its X server, the JACK port and the session files are real; the pianist is quick and a
found note is looked at for 60 ms instead of 900, so that a card takes some 0.3 s instead of the
3.4 s that a child takes. 8500 cards are eight hours of hers. Sessions follow one another in one
window, each dated a day after the last; after every tenth a new pupil begins.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time

from tests.machine import ScriptedPiano, jack_server, x_server

_WATCHED = """
import argparse, gc, os, sys, threading, time
from datetime import datetime, timedelta
from drills.sessions import records
from drills.storage import recorder
from drills.sessions import practice
from drills.app import practice as beginning, session_clock
from drills.commands.options import open_window
from drills.commands import practise
from drills.window import window
practice.RIGHT_MS = practice.RIGHT_AFTER_HELP_MS = 60.0
carry_out, draw, days = recorder.Recorder.carry_out, window.Window._draw, 0
frames, slow, slowest = 0, [], 0.0
def watched_effect(self, effect):
    carry_out(self, effect)
    record = getattr(effect, "record", None)
    if isinstance(record, records.CardShown):
        print("CARD", record.target, flush=True)
    if isinstance(record, records.Ended):
        print("END", flush=True)
def watched_draw(self):
    global frames, slowest
    begun = time.perf_counter()
    draw(self)
    took = 1000 * (time.perf_counter() - begun)
    frames, slowest = frames + 1, max(slowest, took)
    if took > 50:
        slow.append(took)
def clock():
    first = datetime(2026, 1, 5, 16).astimezone()
    return session_clock.SessionClock(started=first + timedelta(days=days))
recorder.Recorder.carry_out = watched_effect
window.Window._draw = watched_draw
beginning.SessionClock = clock
parser = argparse.ArgumentParser()
practise.add_arguments(parser)
with open_window(parser.parse_args()) as table:
    while True:
        pupil = table.studio.pupil(f"Robin{days // 10}")
        if not table.practise(pupil):
            break
        days += 1
        gc.collect()
        status = dict(line.split(":", 1) for line in open("/proc/self/status"))
        kb = status["VmRSS"].split()[0]
        handles = len(os.listdir("/proc/self/fd"))
        print("USED", kb, handles, threading.active_count(), frames, len(slow), slowest, flush=True)
"""


def main() -> None:
    """Practise and print what was used, first and last."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--cards", type=int, default=8500)
    wanted = parser.parse_args().cards
    with jack_server(), x_server() as display, tempfile.TemporaryDirectory() as folder:
        os.environ.update(DISPLAY=display, SDL_VIDEODRIVER="x11")
        begun = time.monotonic()
        used, cards = practised(wanted, folder)
        minutes = (time.monotonic() - begun) / 60
    print(f"{cards} cards in {len(used)} sessions, {minutes:.1f} minutes")
    for name, (kb, handles, threads, frames, slow, slowest) in zip(
        ("after 1 session", "after a quarter", "at half", "at the end"),
        (used[0], used[len(used) // 4], used[len(used) // 2], used[-1]),
        strict=True,
    ):
        print(
            f"{name:<16} {float(kb) / 1024:7.1f} MB {handles:>4} handles {threads:>3} threads "
            f"{frames:>7} frames, {slow} over 50 ms, slowest {float(slowest):.0f} ms"
        )


def practised(wanted: int, folder: str) -> tuple[list[list[str]], int]:
    """Answer so many cards; give what was used after each session, and how many cards there were.

    Every twelfth card is answered wrong first.
    """
    piano = ScriptedPiano(f"long-{os.getpid()}")
    words = ["--studio", folder, "--size", "1024x768", "--seed", "1"]
    process = subprocess.Popen(
        [sys.executable, "-c", _WATCHED, *words], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout
    used, cards = [], 0
    for line in process.stdout:
        word, *rest = line.split()
        if word == "CARD":
            cards += 1
            time.sleep(0.17)
            if cards % 12 == 0:
                _tap(piano, int(rest[0]) + 2)
            _tap(piano, int(rest[0]))
        elif word == "USED":
            used.append(rest)
            if cards >= wanted:
                process.terminate()
        elif word == "END":
            time.sleep(0.1)
            subprocess.run(["xdotool", "key", "Escape"], check=True)
    process.wait()
    piano.close()
    return used, cards


def _tap(piano: ScriptedPiano, key: int) -> None:
    piano.press(key)
    time.sleep(0.06)
    piano.release(key)


if __name__ == "__main__":
    main()
