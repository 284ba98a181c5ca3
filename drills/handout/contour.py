"""Contours to follow: lines of shapes that rise, fall or stay, drawn for a finger to trace."""

from __future__ import annotations

import random
from itertools import groupby

from drills.contour import STAGES, Contour

SHAPES = 8
"""In one line: as many as a finger traces in a breath. Common practice, no source."""
_MOST_ALIKE = 3
"""A line goes one way at most so often in a row."""
_STEP, _ROOM, _RADIUS, _LEFT, _MARGIN = 26.0, 66.0, 12.0, 44.0, 22.0
"""In the picture's own units."""
_WORDS = {1: "up", 0: "the same", -1: "down"}


def invented_contour(seed: int) -> Contour:
    """Invent a contour that rises, falls and stays, over four steps at most."""
    chance = random.Random(seed)
    while True:
        moves = tuple(chance.choices((1, 0, -1), (3, 2, 3), k=SHAPES - 1))
        contour = Contour(STAGES["no-stave"], moves)
        longest = max(len(list(run)) for _, run in groupby(moves))
        if {1, 0, -1} <= set(moves) and longest <= _MOST_ALIKE and _height(contour) <= 4:
            return contour


def contour_picture(contour: Contour) -> str:
    """Give an SVG of a contour, with a hollow first shape where the finger begins."""
    highest = max(contour.heights)
    places = [
        (_LEFT + n * _ROOM, _MARGIN + (highest - height) * _STEP)
        for n, height in enumerate(contour.heights)
    ]
    width = places[-1][0] + _MARGIN
    height = 2 * _MARGIN + _height(contour) * _STEP
    way = " ".join(f"{x:g},{y:g}" for x, y in places)
    shapes = "".join(
        f'<circle cx="{x:g}" cy="{y:g}" r="{_RADIUS:g}" fill="{"black" if n else "white"}" '
        'stroke="black" stroke-width="3"/>'
        for n, (x, y) in enumerate(places)
    )
    told = ", ".join(_WORDS[move] for move in contour.moves)
    x, y = places[0]
    start = (
        f'<path d="M{x - 40:g} {y:g}h14m-7 -6l8 6l-8 6" fill="none" stroke="black" '
        'stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"/>'
    )
    return (
        f'<svg class="contour" role="img" aria-label="A line of shapes: {told}" '
        f'viewBox="0 0 {width:g} {height:g}">'
        f'<polyline points="{way}" fill="none" stroke="black" stroke-width="2.5" '
        f'stroke-dasharray="1 7" stroke-linecap="round"/>{start}{shapes}</svg>'
    )


def _height(contour: Contour) -> int:
    return max(contour.heights) - min(contour.heights)
