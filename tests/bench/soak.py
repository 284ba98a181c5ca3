"""A soak of the real window: robots at the mouse, the keys, the window's frame and the piano.

    python -m tests.bench.soak --minutes 10

The window, its X server (3840 by 2160) and the JACK ports are real. At random: clicks, computer
keys, sizes from 200 by 150 to 4K, minimising, floods of notes, ports that come and go at up to 20 a
second, and a second window on the same pupil. A window that a robot closed by its own doing
(status 0) is opened again. Afterwards every session file is read: each line is whole, and each
key of it that was loud as only the scripted piano is loud is one that it sent, in that order.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.machine import ScriptedPiano, jack_server, x_server

SCREEN = (3840, 2160)
LOUD = 91
"""The velocity by which the scripted piano's keys are told from clicks on the screen's keyboard."""
KEYS = (
    "Return",
    "space",
    "Escape",
    "Tab",
    "Left",
    "Right",
    "Up",
    "Down",
    "a",
    "s",
    "h",
    "F1",
    "F11",
)


class Soak:
    """Windows on one pupil, robots around them, and what the robots sent."""

    def __init__(self, studio: Path, seed: int) -> None:
        """Open the first window and plug the piano in."""
        self.studio, self.chance = studio, random.Random(seed)
        self.piano = ScriptedPiano(f"soak-{os.getpid()}")
        self.sent: list[int] = []
        self.done: dict[str, int] = {}
        self.ended: list[int] = []
        self.windows = [self._open()]

    def run(self, seconds: float) -> None:
        """Let the robots work for so long."""
        ways: list[Callable[[], None]] = [
            self._click, self._click, self._type, self._resize, self._minimise, self._play,
            self._play, self._play, self._flood, self._ports, self._second_window,
        ]  # fmt: skip
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            way = self.chance.choice(ways)
            way()
            self.done[way.__name__.strip("_")] = self.done.get(way.__name__.strip("_"), 0) + 1
            self._watch()

    def close(self) -> None:
        """End what is open; a window that does not end within ten seconds is an error."""
        for window in self.windows:
            window.terminate()
            self.ended.append(window.wait(10))
        self.piano.close()

    def _open(self) -> subprocess.Popen[bytes]:
        source = "import sys; from drills.commands import main; sys.exit(main())"
        words = ["practise", "--studio", str(self.studio), "--pupil", "Robin", "--size", "1024x768"]
        return subprocess.Popen([sys.executable, "-c", source, *words])

    def _watch(self) -> None:
        for window in [each for each in self.windows if each.poll() is not None]:
            self.windows.remove(window)
            self.ended.append(window.returncode)
        if not self.windows:
            self.windows = [self._open()]

    def _click(self) -> None:
        x, y = self.chance.randrange(SCREEN[0] // 3), self.chance.randrange(SCREEN[1] // 3)
        _xdotool("mousemove", x, y, "click", self.chance.choice((1, 1, 1, 2, 3, 4, 5)))

    def _type(self) -> None:
        _xdotool("key", self.chance.choice(KEYS))

    def _resize(self) -> None:
        size = self.chance.randint(200, SCREEN[0]), self.chance.randint(150, SCREEN[1])
        _xdotool("search", "--onlyvisible", "--name", ".", "windowsize", *size)

    def _minimise(self) -> None:
        _xdotool("search", "--name", ".", "windowunmap", "%1")
        time.sleep(0.2)
        _xdotool("search", "--name", ".", "windowmap", "%1")

    def _play(self) -> None:
        key = self.chance.randint(40, 84)
        self._press(key)
        time.sleep(self.chance.uniform(0.05, 0.6))
        self.piano.release(key)

    def _press(self, key: int) -> None:
        self.piano.press(key, LOUD)
        self.sent.append(key)

    def _flood(self) -> None:
        for _number in range(300):
            key = self.chance.randint(21, 108)
            self._press(key)
            self.piano.release(key)
            self.piano.send([0xFE])

    def _ports(self) -> None:
        for number in range(20):
            other = ScriptedPiano(f"soak-{os.getpid()}-{number}")
            time.sleep(0.05)
            other.close()

    def _second_window(self) -> None:
        if len(self.windows) < 2:
            self.windows.append(self._open())


def _xdotool(*words: object) -> None:
    # A window that is just being opened or closed is no error of the soak's.
    subprocess.run(["xdotool", *map(str, words)], check=False, capture_output=True, timeout=30)


def loud_keys(path: Path) -> list[int]:
    """Return the keys of the scripted piano in a session file, each line of which must be whole."""
    lines = [json.loads(line) for line in path.read_text("utf-8").splitlines()[1:]]
    events = [line for line in lines if line["event"] == "key" and line["on"]]
    return [event["key"] for event in events if event["velocity"] == LOUD]


def is_part_in_order(keys: list[int], sent: list[int]) -> bool:
    """Return whether these keys were sent in this order, others between them or not."""
    rest = iter(sent)
    return all(key in rest for key in keys)


def is_unbroken(keys: list[int], sent: list[int]) -> bool:
    """Return whether these keys were sent in this order with none between them."""
    return bytes(keys) in bytes(sent)


def main() -> None:
    """Soak, and print what was done, how the windows ended and what the files say."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--minutes", type=float, default=10)
    parser.add_argument("--seed", type=int, default=0)
    given = parser.parse_args()
    with jack_server(), x_server(*SCREEN) as display, tempfile.TemporaryDirectory() as folder:
        os.environ.update(DISPLAY=display, SDL_VIDEODRIVER="x11", XDG_DATA_HOME=folder)
        studio = Path(folder, "studio")
        soak = Soak(studio, given.seed)
        time.sleep(5)
        try:
            soak.run(60 * given.minutes)
        finally:
            soak.close()
        files = sorted(studio.rglob("*.jsonl"))
        kept = [loud_keys(path) for path in files]
        odd = sum(not is_part_in_order(keys, soak.sent) for keys in kept)
        faults = [path.read_text() for path in Path(folder).rglob("faults.json")]
    unbroken = sum(is_unbroken(keys, soak.sent) for keys in kept)
    print(soak.done)
    print(f"windows ended: {soak.ended}")
    print(f"{len(soak.sent)} keys sent, {sum(map(len, kept))} kept in {len(files)} session files")
    print(f"{odd} files hold what was not sent so, {unbroken} agree key for key")
    print(f"faults: {faults or 'none'}")


if __name__ == "__main__":
    main()
