"""How far a logged key press is from the true one, in milliseconds.

    python -m tests.bench.response_time_error
    python -m tests.bench.response_time_error --presses 2000 --draw my_module:prepare

A scripted piano in a process of its own presses keys at random intervals and writes down when
(the true times). A second process shows a window that draws 60 frames a second and listens with
the piano of the drill. For each press three times are compared, all from the same run: that of the
driver's clock, which is the one logged; that of the message's arrival in Python; and that of the
frame in which the loop first sees it. Once with an idle machine, once with a busy process beside
it, once with one for every core. The JACK server works in periods of 1.3 ms, which are part of
every figure: spread evenly over one period, a time has a standard deviation of 0.38 ms. It runs
in real time where that is allowed (`--no-real-time` for the contrary, which adds the waits of a
server without priority to all three).

`--draw` names a function that gets the size of the window and gives a function that draws a frame,
called with the window's surface and the number of the frame.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from importlib import import_module
from statistics import fmean, pstdev
from typing import TYPE_CHECKING, NamedTuple

from drills.piano import NotePressed, NotesReadLate, Piano, PianoFound
from drills.piano import connection as piano_connection
from drills.piano.driver_clock import DriverClock
from tests.machine import ScriptedPiano, jack_server, real_time_allowed, x_server

if TYPE_CHECKING:
    import pygame

SIZE = (1024, 768)
FRAMES_PER_SECOND = 60
MODULE = "tests.bench.response_time_error"
KEYS = 120

Draw = Callable[["pygame.Surface", int], None]


class Seen(NamedTuple):
    """One press as the window saw it; times in monotonic ns."""

    number: int
    driver: int
    arrival: int
    frame: int


class WitnessedClock(DriverClock):
    """The drill's clock, which also remembers when Python got each message."""

    arrivals: dict[int, int] = {}  # noqa: RUF012

    def time_of(self, delta: float, arrival: int, unread: int) -> int:
        told = super().time_of(delta, arrival, unread)
        self.arrivals[told] = arrival
        return told


def stave_card(size: tuple[int, int]) -> Draw:
    """A picture the size of the window, a keyboard strip and live marks, as a stave card has."""
    import pygame

    card = pygame.Surface(size).convert()
    card.fill((250, 248, 240))
    mark = pygame.Surface((60, 40), pygame.SRCALPHA)
    pygame.draw.ellipse(mark, (30, 30, 30, 200), mark.get_rect())
    width, height = size

    def draw(surface: pygame.Surface, frame: int) -> None:
        surface.blit(card, (0, 0))
        for line in range(5):
            pygame.draw.line(surface, "black", (40, 200 + 24 * line), (width - 40, 200 + 24 * line))
        surface.blit(mark, (width // 2, 180 + frame % 96))
        for key in range(52):
            key_width = width // 52
            edges = (key * key_width, height - 120, key_width - 1, 120)
            pygame.draw.rect(surface, "white", edges)

    return draw


def play(presses: int, seed: int) -> None:
    """Be the pianist: say the port's name, wait for a line, press keys, give the true times."""
    chance = random.Random(seed)
    piano = ScriptedPiano(f"pianist-{os.getpid()}")
    print(piano.name, flush=True)
    sys.stdin.readline()
    times = []
    for number in range(presses):
        time.sleep(chance.uniform(0.03, 0.12))
        key = 1 + number % KEYS
        times.append(piano.press(key, 1 + number // KEYS))
        time.sleep(0.01)
        piano.release(key)
    time.sleep(0.5)
    piano.close()
    print(json.dumps(times), flush=True)


def show(draw_name: str) -> None:
    """Be the window: draw until standard input ends; give what was seen and the frame rate."""
    import pygame

    piano_connection.DriverClock = WitnessedClock  # type: ignore[misc]
    module, function = draw_name.split(":")
    pygame.display.init()
    surface = pygame.display.set_mode(SIZE)
    draw: Draw = getattr(import_module(module), function)(SIZE)
    piano = Piano(lambda: None)
    clock = pygame.time.Clock()
    os.set_blocking(0, False)
    seen: list[Seen] = []
    doubts: list[int] = []
    frame, start = 0, time.monotonic()
    while sys.stdin.buffer.raw.read(1) is None:
        pygame.event.get()
        for event in piano.poll(time.monotonic_ns()):
            if isinstance(event, NotesReadLate):
                doubts.append(event.ns)
            if isinstance(event, PianoFound):
                print("ready", flush=True)
            if isinstance(event, NotePressed):
                number = (event.velocity - 1) * KEYS + event.key - 1
                arrival = WitnessedClock.arrivals[event.at]
                seen.append(Seen(number, event.at, arrival, time.monotonic_ns()))
        draw(surface, frame)
        pygame.display.flip()
        frame += 1
        clock.tick(FRAMES_PER_SECOND)
    piano.close()
    print(json.dumps([frame / (time.monotonic() - start), seen, doubts]), flush=True)


@contextmanager
def busy(processes: int) -> Iterator[None]:
    """Keep so many processes computing meanwhile."""
    running = [
        subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(processes)
    ]
    try:
        yield
    finally:
        for process in running:
            process.kill()
            process.wait()


def run(presses: int, seed: int, draw_name: str) -> tuple[float, list[int], list[Seen], list[int]]:
    """Let both processes meet once.

    Gives frames a second, the true times, what was seen, and the doubts (ns) told of late reading.
    """
    pianist = _start("--play", "--presses", str(presses), "--seed", str(seed))
    _line(pianist)
    window = _start("--show", "--draw", draw_name)
    _line(window)
    time.sleep(0.5)
    assert pianist.stdin and window.stdin
    pianist.stdin.write("play\n")
    pianist.stdin.flush()
    times = json.loads(_line(pianist))
    window.stdin.close()
    frames, seen, doubts = json.loads(_line(window))
    pianist.wait(10)
    window.wait(10)
    return frames, times, [Seen(*each) for each in seen], doubts


def _start(*arguments: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", MODULE, *arguments]
    pipe = subprocess.PIPE
    environment = {**os.environ, "PYGAME_HIDE_SUPPORT_PROMPT": "1"}
    return subprocess.Popen(
        command, stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL, text=True, env=environment
    )


def _line(process: subprocess.Popen[str]) -> str:
    assert process.stdout
    line = process.stdout.readline()
    if not line:
        raise RuntimeError(f"{process.args} ended before its time")
    return line


def report(
    state: str,
    frames: float,
    times: Sequence[int],
    seen: Sequence[Seen],
    doubts: Sequence[int],
) -> None:
    """Print the three rows of one run, and how often the program told that it read late."""
    lost = len(times) - len({each.number for each in seen})
    for clock in ("driver", "arrival", "frame"):
        errors = sorted((getattr(each, clock) - times[each.number]) / 1e6 for each in seen)
        p95 = errors[int(0.95 * len(errors))]
        print(
            f"{state:<18} {clock:<8} {frames:9.1f} {len(seen):8d} {lost:5d} {fmean(errors):8.2f} "
            f"{pstdev(errors):8.2f} {errors[0]:8.2f} {p95:8.2f} {errors[-1]:8.2f}",
            flush=True,
        )
    told = f"told {len(doubts)} times that it read late"
    print(f"{'':<18} {told}, by at most {max(doubts, default=0) / 1e6:.1f} ms", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--presses", type=int, default=600)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--draw", default=f"{MODULE}:stave_card", metavar="MODULE:FUNCTION")
    parser.add_argument("--no-real-time", action="store_true")
    parser.add_argument("--play", action="store_true", help=argparse.SUPPRESS)
    parser.add_argument("--show", action="store_true", help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.play:
        play(options.presses, options.seed)
        return
    if options.show:
        show(options.draw)
        return
    cores = os.cpu_count() or 1
    real_time = real_time_allowed() and not options.no_real_time
    print(
        f"logged minus true time in ms; {cores} cores, load {os.getloadavg()[0]:.2f}, "
        f"JACK {'in' if real_time else 'not in'} real time"
    )
    print(
        f"{'machine':<18} {'clock':<8} {'frames/s':>9} {'presses':>8} {'lost':>5} {'bias':>8} "
        f"{'sd':>8} {'min':>8} {'p95':>8} {'max':>8}"
    )
    with jack_server(real_time), x_server(*SIZE) as display:
        os.environ.update(DISPLAY=display, SDL_VIDEODRIVER="x11")
        for processes, state in ((0, "idle"), (1, "one core busy"), (cores, "all cores busy")):
            with busy(processes):
                report(state, *run(options.presses, options.seed, options.draw))


if __name__ == "__main__":
    main()
