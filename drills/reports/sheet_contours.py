"""Contours to follow: the lines of shapes of the cards, drawn for a finger to trace."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

from markupsafe import Markup

from drills.cards.contour import STAGES, Contour, generated, room
from drills.learning.prior_knowledge.prior_knowledge import LONG_LINE, PriorKnowledge
from drills.reports.drawing import picture
from landmarks.stave import TREBLE
from landmarks.translation import _, gettext_noop

_STEP, _ROOM, _RADIUS, _LEFT, _MARGIN = 26.0, 66.0, 12.0, 44.0, 22.0
"""In the picture's own units."""
_WORDS = {
    2: gettext_noop("a skip up"),
    1: gettext_noop("up"),
    0: gettext_noop("the same"),
    -1: gettext_noop("down"),
    -2: gettext_noop("a skip down"),
}


def invented_contours(
    count: int, brought: PriorKnowledge, chance: random.Random
) -> tuple[Contour, ...]:
    """Invent so many different contours, as long and as winding as on the pupil's cards."""
    found: dict[Contour, None] = {}
    while len(found) < count:
        _start, contour = generated(
            TREBLE, STAGES["no-stave"], brought.line_length, brought.winding, chance
        )
        found[contour] = None
    return tuple(found)


def contour_picture(contour: Contour) -> Markup:
    """Return an SVG of a contour, with a hollow first shape where the finger begins."""
    # Every picture is of one size, so that all shapes are.
    lowest, highest = room(TREBLE, contour.lines)
    width = _LEFT + LONG_LINE * _ROOM + _MARGIN
    height = 2 * _MARGIN + (highest - lowest) * _STEP
    middle = (max(contour.heights) + min(contour.heights)) / 2
    places = [
        (_LEFT + n * _ROOM, height / 2 - (each - middle) * _STEP)
        for n, each in enumerate(contour.heights)
    ]
    told = ", ".join(_(_WORDS[move]) for move in contour.moves)
    return picture(
        [_way(places), _start(*places[0]), *_shapes(places)],
        (0, 0, width, height),
        _("A line of shapes: {moves}").format(moves=told),
        "contour",
        {"preserveAspectRatio": "xMinYMid"},
    )


def _way(places: Sequence[tuple[float, float]]) -> str:
    points = " ".join(f"{x:g},{y:g}" for x, y in places)
    return (
        f'<polyline points="{points}" fill="none" stroke="black" stroke-width="2.5" '
        'stroke-dasharray="1 7" stroke-linecap="round"/>'
    )


def _start(x: float, y: float) -> str:
    return (
        f'<path d="M{x - 40:g} {y:g}h14m-7 -6l8 6l-8 6" fill="none" stroke="black" '
        'stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"/>'
    )


def _shapes(places: Sequence[tuple[float, float]]) -> Iterator[str]:
    for n, (x, y) in enumerate(places):
        fill = "black" if n else "white"
        yield (
            f'<circle cx="{x:g}" cy="{y:g}" r="{_RADIUS:g}" fill="{fill}" stroke="black" '
            'stroke-width="3"/>'
        )
