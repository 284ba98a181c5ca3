"""A shelf of scores, ranked by how ready a pupil is for each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from drills.scores.readiness import Readiness
from drills.scores.reading import SECONDS, read_each
from landmarks.score import Score, ScoreError
from landmarks.score.files import ENDINGS


@dataclass(frozen=True)
class ShelfPiece:
    """A piece and the name it has on the shelf: its file's, and its number in a file of several."""

    name: str
    readiness: Readiness


@dataclass(frozen=True)
class Shelf:
    """The pieces, the readiest first, and a sentence for each file that could not be read."""

    pieces: tuple[ShelfPiece, ...]
    unreadable: tuple[str, ...]


def scores_in(folder: Path) -> list[Path]:
    """Give the files in a folder, at any depth, that end as scores do. OSError if unreadable."""
    return sorted(
        path
        for path in folder.rglob("*")
        if path.suffix.lower() in ENDINGS and path.is_file() and not path.name.startswith(".")
    )


def read_shelf(
    paths: Sequence[Path],
    folder: Path,
    advance: Callable[[], None] = lambda: None,
    seconds: float = SECONDS,
) -> tuple[dict[str, Score], tuple[str, ...]]:
    """Read files into scores by their names; give a sentence for each that cannot be read.

    `advance` is called once a file; a file that takes more than so many `seconds` is left.
    """
    scores: dict[str, Score] = {}
    unreadable = []
    for path, read in read_each(paths, seconds):
        name = str(path.relative_to(folder))
        found = () if isinstance(read, ScoreError) else read
        if isinstance(read, ScoreError):
            unreadable.append(str(read))
        for number, score in enumerate(found, 1):
            if score.notes:
                scores[name if len(found) == 1 else f"{name}, {number}"] = score
        advance()
    return scores, tuple(unreadable)


def ranked(pieces: Iterable[ShelfPiece]) -> tuple[ShelfPiece, ...]:
    """Put pieces in order: most heads covered, fewest notes to learn, fewest hand positions."""
    return tuple(sorted(pieces, key=_distance))


def _distance(piece: ShelfPiece) -> tuple[float, int, int, str]:
    told = piece.readiness
    covered = told.share(told.secured + told.one_step)
    positions = sum(move.positions for move in told.movements)
    return -covered, len(told.to_learn), positions, piece.name
