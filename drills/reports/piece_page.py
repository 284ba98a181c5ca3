"""What is told of a piece or a shelf, as a page to print or to read on a telephone."""

from __future__ import annotations

from collections.abc import Iterable

from drills.reports.frame import page_of
from drills.reports.piece_music import PieceMusic
from drills.reports.terminal import Table


def report_page(title: str, parts: Iterable[str | Table], music: PieceMusic | None = None) -> str:
    """Return sentences and tables, below the first bars if there are any, as one HTML file."""
    return page_of("piece.html", title, parts=tuple(parts), music=music)
