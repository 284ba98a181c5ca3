"""How quick the window is: a press drawn, the first card up, an idle card.

    python -m tests.bench.window

On an X server without a monitor, with a scripted piano on a JACK port, measured from outside:
- press to drawn: from just before the piano sends a note to the end of the frame that shows it;
- first card: from the start of the program to its first card, beside the time in which a bare
  pygame window of the same size opens, turn by turn in one run;
- idle: the share of a core that the program uses while a card waits.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median, quantiles

from tests.machine import ScriptedPiano, jack_server, x_server

FRAME_MS = 1000 / 60
BARE = """
import time, pygame
pygame.display.init()
screen = pygame.display.set_mode(({width}, {height}))
screen.fill("white")
pygame.display.flip()
print(time.monotonic_ns(), flush=True)
"""
WATCHED = """
import sys, time
from drills.commands import main
from drills.window import window
update = window.pygame.display.update
frames = open(sys.argv.pop(1), "a")
def watched(rectangles):
    update(rectangles)
    print(time.monotonic_ns(), file=frames, flush=True)
window.pygame.display.update = watched
sys.exit(main())
"""


class Program:
    """The drill in its window, with the end of every frame written to a file."""

    def __init__(self, folder: Path, size: tuple[int, int]) -> None:
        self.frames_file = folder / "frames"
        self.frames_file.touch()
        self.folder = folder
        self.started = time.monotonic_ns()
        self.process = subprocess.Popen(
            [sys.executable, "-c", WATCHED, str(self.frames_file), "practise", "--studio",
             str(folder / "studio"), "--size", f"{size[0]}x{size[1]}", "--seed", "1"]
        )  # fmt: skip

    def frames(self) -> list[int]:
        return [int(line) for line in self.frames_file.read_text().split()]

    def cards(self) -> list[dict[str, object]]:
        path = next(iter(self.folder.glob("studio/*/sessions/*.jsonl")), None)
        lines = path.read_text().splitlines() if path else []
        events = [json.loads(line) for line in lines if line.endswith("}")]
        return [event for event in events if event.get("event") == "card"]

    def wait_for_cards(self, count: int) -> dict[str, object]:
        while len(self.cards()) < count:
            time.sleep(0.005)
        return self.cards()[count - 1]

    def close(self) -> None:
        self.process.terminate()
        self.process.wait(10)


def press_to_drawn(size: tuple[int, int], presses: int) -> list[float]:
    """Give the milliseconds from each press to the end of the frame that shows it."""
    piano = ScriptedPiano(f"bench-{os.getpid()}")
    taken = []
    with tempfile.TemporaryDirectory() as folder:
        program = Program(Path(folder), size)
        for number in range(1, presses + 1):
            key = int(str(program.wait_for_cards(number)["target"]))
            for wrong in (True, False):
                time.sleep(0.35)
                pressed = piano.press(key + 1 if wrong else key)
                time.sleep(0.15)
                piano.release(key + 1 if wrong else key)
                drawn = next(frame for frame in program.frames() if frame > pressed)
                taken.append((drawn - pressed) / 1e6)
        program.close()
    piano.close()
    return taken


def first_card(size: tuple[int, int], runs: int) -> tuple[list[float], list[float]]:
    """Give the seconds to the first card, and to a bare window, in as many runs of each."""
    bare_source = BARE.format(width=size[0], height=size[1])
    ours, bare = [], []
    for _ in range(runs):
        started = time.monotonic_ns()
        shown = subprocess.run(
            [sys.executable, "-c", bare_source], capture_output=True, text=True, check=True
        )
        bare.append((int(shown.stdout.split()[-1]) - started) / 1e9)
        with tempfile.TemporaryDirectory() as folder:
            program = Program(Path(folder), size)
            program.wait_for_cards(1)
            ours.append((program.frames()[0] - program.started) / 1e9)
            program.close()
    return ours, bare


def idle_share(size: tuple[int, int], seconds: float) -> float:
    """Give the share of one core (0 to 1) that an idle card uses."""
    with tempfile.TemporaryDirectory() as folder:
        program = Program(Path(folder), size)
        program.wait_for_cards(1)
        time.sleep(2)
        before = _processor_seconds(program.process.pid)
        time.sleep(seconds)
        used = _processor_seconds(program.process.pid) - before
        program.close()
    return used / seconds


def _processor_seconds(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--presses", type=int, default=25)
    parser.add_argument("--runs", type=int, default=11)
    arguments = parser.parse_args()
    for size in ((1024, 768), (1920, 1080)):
        with jack_server(), x_server(*size) as display:
            os.environ["DISPLAY"] = display
            taken = press_to_drawn(size, arguments.presses)
            ours, bare = first_card(size, arguments.runs)
            idle = idle_share(size, 20)
        within = sum(each <= FRAME_MS for each in taken) / len(taken)
        print(f"{size[0]}x{size[1]}")
        p99 = quantiles(taken, n=100)[-1]
        print(
            f"  press to drawn: median {median(taken):.1f} ms, p99 {p99:.1f} ms,"
            f" max {max(taken):.1f} ms of {len(taken)}; {within:.0%} within one frame"
        )
        print(
            f"  first card: {median(ours):.3f} s, bare window {median(bare):.3f} s,"
            f" ratio {median(ours) / median(bare):.2f}"
        )
        print(f"  idle card: {idle:.2%} of a core", flush=True)


if __name__ == "__main__":
    main()
