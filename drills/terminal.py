"""Words and tables for any terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

WIDTH = 88


def prose(sentence: str) -> list[str]:
    """Break a sentence into lines."""
    return textwrap.wrap(sentence, WIDTH, subsequent_indent="  ")


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Give the lines of a table, its columns as wide as what stands in them."""
    lines = [headings, *rows]
    widths = [max(len(line[column]) for line in lines) for column in range(len(headings))]
    for line in lines:
        cells = (cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        yield "  ".join(cells).rstrip()
