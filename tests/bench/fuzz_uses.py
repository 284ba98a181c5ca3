"""Whole uses under attack by the thousand: odd studios and odd scores through every command.

    python -m tests.bench.fuzz_uses 50000            # uses; a twentieth of the seeds are scores
    python -m tests.bench.fuzz_uses 500 --first 7000

Prints how often each use was tried, with which statuses it ended, the slowest, and every fault
once with the first seed that shows it.
"""

from __future__ import annotations

import argparse
import re
import time

from tests.faults.uses import Tried, try_histories, try_score

EVERY = 20
"""Of so many seeds one is a score: it takes as long as all others together."""


def fuzz(uses: int, first: int = 0) -> Tried:
    """Return what came of so many uses, from this seed on."""
    tried, seed = Tried(), first
    while tried.uses.total() < uses:
        if seed % EVERY == EVERY - 1:
            try_score(seed, tried)
        else:
            try_histories(seed, tried)
        seed += 1
    return tried


def main() -> None:
    """Attack, and print what came of it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("uses", type=int, nargs="?", default=50_000)
    parser.add_argument("--first", type=int, default=0)
    given = parser.parse_args()
    begun = time.monotonic()
    tried = fuzz(given.uses, given.first)
    for status, times in sorted(tried.statuses.items()):
        print(f"{times:>7} {status}")
    alike: dict[str, list[str]] = {}
    for fault in tried.faults:
        alike.setdefault(re.sub(r"\d+", "N", fault.partition(": ")[2]), []).append(fault)
    for faults in alike.values():
        print(f"{len(faults):>7} x {faults[0]}")
    print(
        f"{tried.uses.total()} uses, {len(tried.faults)} faults, slowest {tried.slowest:.1f} s, "
        f"{time.monotonic() - begun:.0f} s"
    )


if __name__ == "__main__":
    main()
