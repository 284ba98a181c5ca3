"""How soon the first card is on the screen, and how much lies on the disk: bundle and installed.

    python -m tests.bench.start .venv dist/landmark-drills

Each is started in turn on an X server without a monitor; the time runs from the start of the
process to the moment that the session file names for its first card.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import tempfile
import time
from pathlib import Path
from statistics import median

import msgspec

from tests.machine import x_server

COMMAND = "landmark-drills"
PATIENCE = 60


def command_in(place: Path) -> Path:
    """Return the program in a virtual environment or a bundle."""
    installed = place / "bin" / COMMAND
    return installed if installed.exists() else place / COMMAND


def seconds_to_first_card(command: Path) -> float:
    """Start the program anew, and return the seconds until its first card was on the screen."""
    with tempfile.TemporaryDirectory() as studio:
        started = time.monotonic_ns()
        process = subprocess.Popen(
            [command, "practise", "--pupil", "Robin", "--studio", studio, "--size", "1024x768",
             "--seed", "1"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        try:
            return (_first_card_ns(Path(studio)) - started) / 1e9
        finally:
            process.terminate()
            process.wait()


def _first_card_ns(studio: Path) -> int:
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline:
        for path in studio.glob("*/sessions/*.jsonl"):
            # The last line may be half written, and a file may have no line yet.
            whole = path.read_bytes().rpartition(b"\n")[0].splitlines()
            header, *lines = map(msgspec.json.decode, whole or [b"null"])
            for line in lines:
                if line["event"] == "card":
                    return int(header["clock_ns"]) + round(line["t"] * 1e6)
        time.sleep(0.01)
    raise RuntimeError("no card came")


def megabytes(place: Path) -> float:
    """Return the size of all files in a folder, in 10^6 bytes; links are not followed."""
    return sum(path.lstat().st_size for path in place.rglob("*") if path.is_file()) / 1e6


def main() -> None:
    """Print one line for each place."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("places", nargs="+", type=Path, help="virtual environments and bundles")
    parser.add_argument("--times", type=int, default=11)
    options = parser.parse_args()
    seconds: dict[Path, list[float]] = {place: [] for place in options.places}
    with x_server() as display:
        os.environ |= {"DISPLAY": display, "SDL_VIDEODRIVER": "x11"}
        for _ in range(options.times):
            for place, taken in seconds.items():
                taken.append(seconds_to_first_card(command_in(place)))
    for place, taken in seconds.items():
        print(
            f"{place}: first card after {median(taken):.2f} s "
            f"({min(taken):.2f} to {max(taken):.2f}, {len(taken)} starts), "
            f"{megabytes(place):.0f} MB"
        )


if __name__ == "__main__":
    main()
