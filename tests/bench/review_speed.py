"""How long the review takes over a million answers, beside parsing the same lines alone.

    python -m tests.bench.review_speed [ANSWERS [PUPILS]]

Writes session files in a temporary folder, with the program's own records: a card, its answer
and two keys for each answer, 30 answers a session, a million answers of 10 pupils unless told
otherwise. All sides read the same files in the same order, five times in turn; the best of each
is told. msgspec parses in one process; the review is told as it runs, on all cores, and on one.
Each pupil adds the time that the learning model needs for the answers kept of every card, however
many answers there were.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
import tracemalloc
import uuid
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec

from drills.cards.card import default_cards
from drills.review.collect import collect
from drills.review.each_pupil import SessionFiles, review_pupils
from drills.sessions.device_records import KeyMovedRecord
from drills.sessions.records import AnsweredRecord, CardAskedRecord, EndedRecord, Header, Record

ANSWERS_A_SESSION = 30
DEFAULTS = (1_000_000, 10)
START = datetime(2020, 9, 1, 16, tzinfo=UTC)


def write_files(folder: Path, answers: int, pupils: int) -> list[list[Path]]:
    """Write the session files; give those of each pupil."""
    generator, cards, encoder = random.Random(1), default_cards(), msgspec.json.Encoder()
    sessions = answers // ANSWERS_A_SESSION // pupils
    files = []
    for pupil in range(pupils):
        home = folder / f"pupil {pupil}" / "sessions"
        home.mkdir(parents=True)
        for session in range(sessions):
            started = START + timedelta(days=session, minutes=pupil)
            name = str(uuid.UUID(int=generator.getrandbits(128)))
            header = Header(
                session=name, pupil=f"pupil {pupil}", started=started, clock_ns=0,
                program="0", port="bench", clock="simulated", set="five", seed=0,
            )  # fmt: skip
            lines: list[Header | Record] = [header]
            t = 0.0
            for _ in range(ANSWERS_A_SESSION):
                card, ms = generator.choice(cards), round(generator.lognormvariate(7.3, 0.5), 3)
                lines += _lines_of_a_card(generator, card, t, ms)
                t = round(t + ms + 1200, 3)
            lines.append(EndedRecord(t=t, why="done"))
            stamp = started.strftime("%Y-%m-%dT%H-%M-%S")
            path = home / f"{stamp}_{name[:8]}.jsonl"
            path.write_bytes(b"\n".join(encoder.encode(line) for line in lines) + b"\n")
        files.append(sorted(home.iterdir()))
    return files


def _lines_of_a_card(generator, card, t, ms):  # type: ignore[no-untyped-def]
    right = generator.random() < 0.9
    key = card.key if right else card.key + generator.choice([-2, 2])
    down = round(t + ms, 3)
    return [
        CardAskedRecord(
            t=t, id=card.id, kind=card.kind, clef=card.clef.name, target=card.key,
            name=card.named(),
        ),
        KeyMovedRecord(t=down, key=key, velocity=60, channel=1, on=True),
        AnsweredRecord(
            t=down, id=card.id, verdict="exact" if right else "step", played=key, ms=ms,
            attempt=1, hints=0, counted=True,
        ),
        KeyMovedRecord(t=round(down + 200, 3), key=key, velocity=0, channel=1, on=False),
    ]  # fmt: skip


def parse_typed(pupils: list[list[Path]]) -> None:
    """Parse every line with msgspec into the program's records, and do nothing with it."""
    decode = msgspec.json.Decoder(Record).decode
    for paths in pupils:
        for path in paths:
            with path.open("rb") as file:
                file.readline()
                for line in file.read().splitlines():
                    decode(line)


def parse_typed_at_one_go(pupils: list[list[Path]]) -> None:
    """Parse whole files with msgspec into the program's records, and do nothing with them."""
    decode = msgspec.json.Decoder(Record).decode_lines
    for paths in pupils:
        for path in paths:
            with path.open("rb") as file:
                file.readline()
                decode(file.read())


def parse_untyped(pupils: list[list[Path]]) -> None:
    """Parse every line with msgspec into dictionaries, and do nothing with them."""
    decode = msgspec.json.Decoder().decode
    for paths in pupils:
        for path in paths:
            for line in path.read_bytes().splitlines():
                decode(line)


def review(pupils: list[list[Path]], cores: int | None = None) -> None:
    """Review every pupil, as the command does."""
    files = [SessionFiles(f"pupil {number}", tuple(paths)) for number, paths in enumerate(pupils)]
    review_pupils(files, datetime.now(UTC), cores=cores)


def review_on_one_core(pupils: list[list[Path]]) -> None:
    """Review every pupil in this process."""
    review(pupils, cores=1)


Work = Callable[[list[list[Path]]], None]
PARSERS: dict[str, Work] = {
    "line by line, typed records": parse_typed,
    "line by line, dictionaries": parse_untyped,
    "whole files, typed records": parse_typed_at_one_go,
}


def best_of_five(works: Sequence[Work], pupils: list[list[Path]]) -> list[float]:
    """Give the shortest of five runs of each work, in seconds; they take turns."""
    runs: list[list[float]] = [[] for _ in works]
    for _ in range(5):
        for work, taken in zip(works, runs, strict=True):
            begun = time.perf_counter()
            work(pupils)
            taken.append(time.perf_counter() - begun)
    return [min(taken) for taken in runs]


def peak_of_collecting(paths: list[Path]) -> float:
    """Give the peak of the memory allocated while one pupil's files are folded, in KiB."""
    tracemalloc.start()
    collect("pupil", paths)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1024


def main() -> None:
    """Write the files, time both sides, print one table."""
    answers, count = [*map(int, sys.argv[1:]), *DEFAULTS[len(sys.argv) - 1 :]]
    with tempfile.TemporaryDirectory() as folder:
        pupils = write_files(Path(folder), answers, count)
        files = sum(len(paths) for paths in pupils)
        print(f"{answers} answers, {files} files, {count} pupils; best of five, seconds")
        ours, *alone = best_of_five((review, review_on_one_core, *PARSERS.values()), pupils)
        on_one_core, *alone = alone
        print(f"{'review':38}{ours:6.2f}\n{'review on one core':38}{on_one_core:6.2f}")
        for name, seconds in zip(PARSERS, alone, strict=True):
            print(
                f"msgspec, {name:29}{seconds:6.2f}   review: {ours / seconds:.2f} times, "
                f"on one core {on_one_core / seconds:.2f}"
            )
        print("memory while one pupil's files are folded, peak, KiB")
        for share in (4, 2, 1):
            some = pupils[0][: len(pupils[0]) // share]
            print(f"{len(some):8} sessions       {peak_of_collecting(some):8.0f}")


if __name__ == "__main__":
    main()
