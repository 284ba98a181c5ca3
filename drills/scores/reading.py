"""Scores are read in a process of its own: a file that keeps music21 busy too long is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from drills.scores.timeout_process import (
    MOST_BYTES,
    TookTooLongError,
    TookTooMuchError,
    run_with_timeout,
)
from landmarks.line import Line
from landmarks.score import Score, ScoreError, read_scores
from landmarks.translation import _

SECONDS = 30.0
"""For one file: some ten times what the longest piece for two hands needs (measured)."""
AT_FIRST = 4.0
"""Seconds for one file while others wait: what takes longer is read after them."""


def read_each(
    paths: Sequence[Path], seconds: float = SECONDS
) -> Iterator[tuple[Path, tuple[Score, ...] | ScoreError]]:
    """Yield files with their scores, or with why they cannot be read.

    They come in their order, but for those that take long, which come last.
    """
    late: list[Path] = []
    for path, found in _read_within(paths, min(AT_FIRST, seconds) if paths[1:] else seconds):
        if found is None and paths[1:] and seconds > AT_FIRST:
            late.append(path)
        else:
            yield path, found or ScoreError(_too_long(path, seconds))
    for path, found in _read_within(late, seconds):
        yield path, found or ScoreError(_too_long(path, seconds))


def lines_in_time(
    path: Path, first_bar: int, seconds: float = SECONDS, tune: int = 1
) -> Iterator[Line]:
    """Return the lines of a score's tune from a bar on, as `landmarks.excerpt.score_lines` does.

    Raises:
        ScoreError: as there, or if the first line, or one after it, takes too long or too much.
    """
    try:
        yield from run_with_timeout(partial(_lines, path, first_bar, tune), seconds)
    except TookTooLongError:
        raise ScoreError(_too_long(path, seconds)) from None
    except TookTooMuchError:
        raise _too_much(path) from None


def _read_within(
    paths: Sequence[Path], seconds: float
) -> Iterator[tuple[Path, tuple[Score, ...] | ScoreError | None]]:
    """Yield what each file gives, None where it gives nothing within so many seconds."""
    waiting = list(paths)
    while waiting:
        try:
            for found in run_with_timeout(partial(_each, tuple(waiting)), seconds):
                yield waiting.pop(0), found
        except TookTooLongError:
            yield waiting.pop(0), None
        except TookTooMuchError:
            path = waiting.pop(0)
            yield path, _too_much(path)


def _each(paths: Sequence[Path]) -> Iterator[tuple[Score, ...] | ScoreError]:
    for path in paths:
        try:
            yield read_scores(path)
        except ScoreError as error:
            yield error


def _lines(path: Path, first_bar: int, tune: int) -> Iterator[Line]:
    from landmarks.excerpt import score_lines

    return score_lines(path, first_bar, tune)


def _too_long(path: Path, seconds: float) -> str:
    return _(
        "{path}: this score was not read within {seconds} seconds; choose a single piece, or a "
        "part of this one"
    ).format(path=path, seconds=f"{seconds:.0f}")


def _too_much(path: Path) -> ScoreError:
    return ScoreError(
        _(
            "{path}: this score needs more than {most} MB of memory; choose a single piece, or a "
            "part of this one"
        ).format(path=path, most=MOST_BYTES // 1_000_000)
    )
