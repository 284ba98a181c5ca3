"""Odd scores by the hundred through `landmark-drills piece` to the page, each in its own process.

    python -m tests.bench.score_fuzz [COUNT] [FIRST_SEED]

Prints how often each outcome came (a page, or which sentence, its numbers left out), by form, and
the seeds of what ended otherwise or took longer than ten seconds.
"""

from __future__ import annotations

import contextlib
import io
import re
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from drills.commands import main
from tests.score_fuzz import ScoreMaker

SLOW = 10.0


def outcome(path: Path, page: Path) -> str:
    """Return what the command says of a file: "" for a page, else its sentence."""
    errors = io.StringIO()
    with contextlib.redirect_stderr(errors), contextlib.redirect_stdout(io.StringIO()):
        code = main(["piece", str(path), "--page", str(page)])
    return "" if code == 0 else re.sub(r"\d+", "N", errors.getvalue().replace(str(path), "FILE"))


def fuzz(count: int, first: int) -> None:
    """Run so many seeds and print what came of them."""
    seen: Counter[tuple[str, str]] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, first + count):
            ending, content = ScoreMaker(seed).score()
            path = Path(folder, f"score{ending}")
            path.write_bytes(content)
            begun = time.perf_counter()
            said = outcome(path, Path(folder, "page.html"))
            took = time.perf_counter() - begun
            seen[ending, said.strip()] += 1
            if "FILE: " not in said and said:
                print(f"seed {seed}: {said.strip()}")
            if took > SLOW:
                print(f"seed {seed}: {took:.1f} s")
    for (ending, said), times in seen.most_common():
        print(f"{times:6} {ending:10} {said or 'a page'}")


if __name__ == "__main__":
    numbers = [int(text) for text in sys.argv[1:]]
    fuzz(numbers[0] if numbers else 500, numbers[1] if numbers[1:] else 0)
