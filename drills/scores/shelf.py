"""A shelf of scores, ranked by how ready a pupil is for each."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import attrgetter
from pathlib import Path
from typing import TypeVar

from drills.scores.readiness import Readiness
from drills.scores.reading import SECONDS, read_each
from landmarks.score import Score, ScoreError
from landmarks.score.files import ENDINGS

Item = TypeVar("Item")

_HEADS_IN_A_HUNDRED = 2
"""With a sign of their own weigh as much as one sharp or flat of a key signature, which holds for
one letter of seven but stands in sight. A prior of this program, no source."""


@dataclass(frozen=True)
class ShelfPiece:
    """A piece and the name it has on the shelf: its file's, and its number in a file of several."""

    name: str
    readiness: Readiness


@dataclass(frozen=True)
class Shelf:
    """The pieces, the readiest first, and a sentence for each file that could not be read.

    `waiting` counts the files that were not come to, because the reading was stopped.
    """

    pieces: tuple[ShelfPiece, ...]
    unreadable: tuple[str, ...]
    waiting: int = 0


def scores_in(folder: Path) -> list[Path]:
    """Return the files in a folder, at any depth, that end as scores do. OSError if unreadable."""
    return sorted(
        path
        for path in folder.rglob("*")
        if path.suffix.lower() in ENDINGS and path.is_file() and not path.name.startswith(".")
    )


def read_shelf(
    paths: Sequence[Path],
    folder: Path,
    go_on: Callable[[], bool] = lambda: True,
    seconds: float = SECONDS,
) -> tuple[dict[str, Score], tuple[str, ...], int]:
    """Return scores by their names, a sentence for each unreadable file, and how many wait.

    `go_on` is asked after each file whether to read another; Ctrl+C ends the reading as well, and
    what was read until then is kept. A file that takes long is read last, one that takes more than
    so many `seconds` is left.
    """
    scores: dict[str, Score] = {}
    unreadable: list[str] = []
    waiting = len(paths)
    files = _until_interrupted(read_each(paths, seconds))
    for path, read in files:
        waiting -= 1
        name = str(path.relative_to(folder))
        found = () if isinstance(read, ScoreError) else read
        if isinstance(read, ScoreError):
            unreadable.append(str(read))
        for number, score in enumerate(found, 1):
            if score.notes:
                scores[name if len(found) == 1 else f"{name}, {number}"] = score
        if not go_on():
            break
    return scores, tuple(unreadable), waiting


def _until_interrupted(items: Iterator[Item]) -> Iterator[Item]:
    with contextlib.suppress(KeyboardInterrupt):
        yield from items


def ranked(pieces: Iterable[ShelfPiece]) -> tuple[ShelfPiece, ...]:
    """Put pieces in order, the readiest first.

    First by tenths of the heads that are secured, then by the sharps and flats to be minded (the
    signature's, and signs beside one in so many heads), then by different note values, by heads
    covered, by notes to learn and by hand positions. The order is this program's own.
    """
    return tuple(sorted(sorted(pieces, key=attrgetter("name")), key=_distance))


def _distance(piece: ShelfPiece) -> tuple[float, ...]:
    told = piece.readiness
    secured = round(10 * told.share(told.secured))
    signs = told.signature + round(100 * told.share(told.accidentals)) // _HEADS_IN_A_HUNDRED
    covered = told.share(told.secured + told.one_step)
    positions = sum(move.positions for move in told.movements)
    return -secured, signs, told.values, -covered, len(told.to_learn), positions
