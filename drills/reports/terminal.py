"""Words and tables for any terminal."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

WIDTH = 80
"""The width of a terminal as it opens."""


@dataclass(frozen=True)
class Table:
    """Rows of words below their headings, each as long as these."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def report(title: str, parts: Iterable[str | Table]) -> Iterator[str]:
    """Set a title, and sentences and tables below it, with an empty line around each table."""
    yield title
    near_table = True
    for part in parts:
        is_table = isinstance(part, Table)
        if near_table or is_table:
            yield ""
        yield from table(part.headings, part.rows) if isinstance(part, Table) else prose(part)
        near_table = is_table


def prose(sentence: str) -> list[str]:
    """Break a sentence into lines."""
    return textwrap.wrap(sentence, WIDTH, subsequent_indent="  ")


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Return the lines of a table, its columns as wide as what stands in them."""
    lines = [headings, *rows]
    widths = [max(_width(line[column]) for line in lines) for column in range(len(headings))]
    for line in lines:
        cells = (
            cell + " " * (width - _width(cell)) for cell, width in zip(line, widths, strict=True)
        )
        yield "  ".join(cells).rstrip()


def _width(text: str) -> int:
    """Return how many columns a terminal needs for a text (Unicode Standard Annex 11)."""
    return sum(
        0 if unicodedata.combining(sign) else 1 + (unicodedata.east_asian_width(sign) in "WF")
        for sign in text
    )
