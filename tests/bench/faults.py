"""Every fault that is done on purpose, how often, and what was lost: as a table.

    python -m tests.bench.faults                        # all of it, about an hour
    python -m tests.bench.faults --kills 50 --windows 4 --inputs 20000 --uses 2000

What a power cut may leave is modelled (tests/faults/power.py), everything else is done: processes
are killed, ports come and go on a JACK server, files are written and read.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from collections.abc import Iterator
from statistics import median

from tests.bench.fuzz_uses import fuzz as fuzz_uses
from tests.faults.fuzz import fuzz
from tests.faults.kills import Killed, kill_runs
from tests.faults.power import cut_power
from tests.faults.window_kills import kill_windows
from tests.machine import jack_server, x_server

TESTS = {
    "tests/window/test_pianos_that_fail_in_the_window.py": "pianos that fail, in the real window",
    "tests/drills/piano/test_piano_on_jack.py": "piano ports at a JACK server",
    "tests/drills/piano/test_pianos_come_and_go.py": "pianos plugged in and pulled out at random",
    "tests/faults/test_faults.py": "full disk, vanished folder, clocks, pipes, sockets",
    "tests/drills/storage/test_pupil_export.py": "a pupil forgotten and exported",
    "tests/faults/test_pairs.py": "two programs on one pupil, every pairing",
    "tests/window/test_surprises_in_the_window.py": "surprises in the real window",
}


def rows(
    kills: int, windows: int, cuts: int, inputs: int, uses: int
) -> Iterator[tuple[str, str, str]]:
    """Give what was done, how often, and what was lost."""
    yield _of_kills("SIGKILL at a random moment", kill_runs(kills))
    with jack_server(), x_server() as display:
        os.environ.update(DISPLAY=display, SDL_VIDEODRIVER="x11")
        yield _of_kills("SIGKILL of the real window", kill_windows(windows))
    found = [cut_power(seed) for seed in range(cuts)]
    waits = [wait for cut in found for wait in cut.waits]
    yield (
        "power cut at every write boundary (modelled)",
        f"{sum(c.boundaries for c in found)} boundaries, {sum(c.files for c in found)} files",
        f"{sum(c.synced_answers_lost for c in found)} synced answers lost; an answer waits "
        f"{median(waits):.1f} ms to be synced, at most {max(waits):.1f} ms",
    )
    fuzzed = fuzz(inputs)
    yield (
        f"damaged and hostile files, {len(fuzzed.inputs)} readers",
        f"{fuzzed.inputs.total()} inputs",
        f"{len(fuzzed.faults)} faults; slowest {1000 * fuzzed.slowest:.0f} ms",
    )
    for fault in fuzzed.faults[:10]:
        print(fault, file=sys.stderr)
    tried = fuzz_uses(uses)
    yield (
        "odd studios and scores, through every command to the page",
        f"{tried.uses.total()} uses",
        f"{len(tried.faults)} faults; slowest {tried.slowest:.1f} s",
    )
    for fault in tried.faults[:10]:
        print(fault, file=sys.stderr)
    environment = {**os.environ, "LANDMARK_DRILLS_ALL_FAULTS": "1"}
    for path, what in TESTS.items():
        command = [sys.executable, "-m", "pytest", "-q", path]
        done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
        yield what, path, done.stdout.strip().splitlines()[-1].strip("= ")


def _of_kills(what: str, killed: Killed) -> tuple[str, str, str]:
    return (
        what,
        f"{killed.runs} runs, {killed.answers_shown} answers seen",
        f"{killed.answers_lost} answers lost; {killed.torn_lines} torn lines, "
        f"{killed.failed_starts} starts failed",
    )


def main() -> None:
    """Do it all and print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--windows", type=int, default=40)
    parser.add_argument("--cuts", type=int, default=20, help="sessions cut at every boundary")
    parser.add_argument("--inputs", type=int, default=1_000_000)
    parser.add_argument("--uses", type=int, default=50_000, help="odd files through commands")
    chosen = parser.parse_args()
    print("| fault | tried | lost |\n| --- | --- | --- |", flush=True)
    for row in rows(chosen.kills, chosen.windows, chosen.cuts, chosen.inputs, chosen.uses):
        print(f"| {' | '.join(row)} |", flush=True)


if __name__ == "__main__":
    main()
