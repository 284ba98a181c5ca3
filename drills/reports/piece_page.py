"""What is told of a piece or a shelf, as a page to print or to read on a telephone."""

from __future__ import annotations

from collections.abc import Iterable

from drills.reports.frame import page_of
from drills.reports.terminal import Table


def report_page(title: str, parts: Iterable[str | Table]) -> str:
    """Return sentences and tables as one HTML file, complete in itself."""
    return page_of("piece.html", title, parts=tuple(parts))
