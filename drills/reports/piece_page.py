"""What is told of a piece or a shelf, as a page to print or to read on a telephone."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from drills.reports.frame import framed
from drills.reports.terminal import Table


def report_page(title: str, parts: Iterable[str | Table]) -> str:
    """Give sentences and tables as one HTML file, complete in itself."""
    content = "".join(
        _table(part) if isinstance(part, Table) else f"<p>{escape(part)}</p>" for part in parts
    )
    return framed(title, f"<header><h1>{escape(title)}</h1></header><main>{content}</main>")


def _table(table: Table) -> str:
    heads = "".join(f'<th scope="col" role="columnheader">{escape(h)}</th>' for h in table.headings)
    rows = "".join(
        f'<tr role="row"><th scope="row" role="rowheader">{escape(row[0])}</th>'
        + "".join(
            f'<td role="cell"><span class="label" aria-hidden="true">{escape(heading)}</span>'
            f"{escape(cell)}</td>"
            for heading, cell in zip(table.headings[1:], row[1:], strict=True)
        )
        + "</tr>"
        for row in table.rows
    )
    return (
        f'<table role="table"><thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )
