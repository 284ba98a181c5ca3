"""Scores are read in a process of its own: a file that would keep music21 busy too long is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from drills.scores.timeout_process import TookTooLongError, in_time
from landmarks.line import Line
from landmarks.score import Score, ScoreError, read_scores
from landmarks.translation import _

SECONDS = 30.0
"""For one file: some ten times what the longest piece for two hands needs (measured)."""


def read_each(
    paths: Sequence[Path], seconds: float = SECONDS
) -> Iterator[tuple[Path, tuple[Score, ...] | ScoreError]]:
    """Read files one after the other; give each with its scores, or why it cannot be read."""
    waiting = list(paths)
    while waiting:
        try:
            for found in in_time(partial(_each, tuple(waiting)), seconds):
                yield waiting.pop(0), found
        except TookTooLongError:
            path = waiting.pop(0)
            yield path, ScoreError(_too_long(path, seconds))


def lines_in_time(
    path: Path, first_bar: int, seconds: float = SECONDS, tune: int = 1
) -> Iterator[Line]:
    """Return the lines of a score's tune from a bar on, as `landmarks.excerpt.score_lines` does.

    ScoreError of that module, too, if the first line, or one after it, takes too long.
    """
    from landmarks.excerpt import ScoreError as NoLineError

    try:
        yield from in_time(partial(_lines, path, first_bar, tune), seconds)
    except TookTooLongError:
        raise NoLineError(_too_long(path, seconds)) from None


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
