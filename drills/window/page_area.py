"""Which part of a window its pages are laid out in."""

from __future__ import annotations

from drills.engrave.layer import Box

SMALLEST = 160, 120
"""Width and height in pixels below which nothing is drawn: nobody could read it."""
TALLEST, WIDEST = 1.8, 6.0
"""Of height to width, and of width to height: an upright screen, and a strip of one."""


def page_area(width: int, height: int) -> Box | None:
    """Return the middle part of a window in which pages can be laid out; None if it is too small.

    >>> page_area(1024, 768)
    Box(x=0, y=0, width=1024, height=768)
    >>> page_area(400, 1080)
    Box(x=0, y=180, width=400, height=720)
    """
    across, tall = round(min(width, WIDEST * height)), round(min(height, TALLEST * width))
    if across < SMALLEST[0] or tall < SMALLEST[1]:
        return None
    return Box((width - across) // 2, (height - tall) // 2, across, tall)
