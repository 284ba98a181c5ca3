"""How use grows with the years and with the studio: the planner's start, and the review.

    python -m tests.bench.growth                     # 0, 1, 5 years; 10, 100, 300 pupils
    python -m tests.bench.growth --years 0 5 --pupils 10

A year is 14,000 answers in sessions of 30. Told is how long one pupil's practice takes to begin
(history read, beliefs folded, first card chosen; without window and imports), with no checkpoint
yet and with the one of the start before; and how long the review of the whole studio takes, each
pupil with a tenth of a year.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from drills.app.practice import practice_of
from drills.app.practice_context import practice_context
from drills.review.each_pupil import SessionFiles, review_pupils
from drills.storage.studio import Studio
from tests.bench.review_speed import write_files

ANSWERS_A_YEAR = 14_000
NOW = datetime(2026, 11, 20, 18, tzinfo=UTC)


def start_seconds(years: int) -> tuple[float, float]:
    """Return how long practice takes to begin the first and the second time."""
    with tempfile.TemporaryDirectory() as folder:
        if years:
            write_files(Path(folder), years * ANSWERS_A_YEAR, 1)
        pupil = Studio(Path(folder)).pupil("pupil 0")
        taken = []
        for _time in range(2):
            begun = time.perf_counter()
            practice_of(pupil, practice_context(pupil), seed=1).chooser.next(NOW)
            taken.append(time.perf_counter() - begun)
    return taken[0], taken[1]


def review_seconds(pupils: int) -> float:
    """Return how long the review of so many pupils takes."""
    with tempfile.TemporaryDirectory() as folder:
        files = write_files(Path(folder), pupils * ANSWERS_A_YEAR // 10, pupils)
        of_pupils = [SessionFiles(f"pupil {n}", tuple(paths)) for n, paths in enumerate(files)]
        begun = time.perf_counter()
        assert len(list(review_pupils(of_pupils, NOW))) == pupils
        return time.perf_counter() - begun


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--years", type=int, nargs="*", default=[0, 1, 5])
    parser.add_argument("--pupils", type=int, nargs="*", default=[10, 100, 300])
    given = parser.parse_args()
    for years in given.years:
        first, again = start_seconds(years)
        print(
            f"{years} years, {years * ANSWERS_A_YEAR} answers: practice begins after "
            f"{first:.2f} s, again {again:.2f} s",
            flush=True,
        )
    for pupils in given.pupils:
        print(f"{pupils} pupils: review after {review_seconds(pupils):.1f} s", flush=True)
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")


if __name__ == "__main__":
    main()
