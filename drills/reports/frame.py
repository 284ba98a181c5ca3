"""What every page of the review has in common: one file that asks the network for nothing."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from html import escape
from importlib import resources

from drills.learning.response import State
from drills.reports.stave_picture import HATCHING, note_sample
from landmarks.translation import _, language, noted

STATE_WORDS = {
    State.INK: noted("in ink: secured"),
    State.PENCIL: noted("in pencil: not yet secured"),
    State.FADED: noted("faded: was secured, to be shown again"),
    State.NEW: noted("dotted: not met yet"),
}


def framed(title: str, content: str) -> str:
    """Give a whole page around its content, which is HTML already; `title` is not."""
    style = resources.files("drills.reports").joinpath("page.css").read_text(encoding="utf-8")
    hatching = (
        '<svg width="0" height="0" style="position:absolute" aria-hidden="true"><defs>'
        f"{HATCHING}</defs></svg>"
    )
    return whole_page(title, style, f"{hatching}\n{content}")


def whole_page(title: str, style: str, content: str) -> str:
    """Give a page as one HTML file; `style` is CSS, `content` is HTML already, `title` is not."""
    return f"""<!DOCTYPE html>
<html lang="{language()}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{escape(title)}</title>
<style>
{style}</style>
</head>
<body>
{content}
</body>
</html>
"""


PARENT_WORDS = {
    State.INK: noted("in ink: found surely and soon"),
    State.PENCIL: noted("in pencil: still being learnt"),
    State.FADED: noted("faded: to be played again"),
    State.NEW: noted("dotted: not met yet"),
}


def legend(used: Collection[State], words: Mapping[State, str] = STATE_WORDS) -> str:
    """Explain how notes are drawn in the states that are used."""
    items = "".join(
        f"<li>{note_sample(state)} {escape(_(told))}</li>"
        for state, told in words.items()
        if state in used
    )
    return f'<ul class="legend">{items}</ul>'
