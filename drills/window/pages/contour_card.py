"""The card of a line of shapes: the stave lines there are, the shapes, and the one to play next."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from drills.cards.card import Card
from drills.cards.contour import drawn_lines, room
from drills.cards.help import Help
from drills.engrave import glyphs, palette
from drills.engrave.layer import Box, Layer
from drills.sessions.view import Phase, View
from landmarks.answer import Verdict

APART, AROUND = 2.6, 5.0
"""Room from shape to shape, and about the line, in stave spaces as every length here."""
WIDE, TALL, SLANT = 0.62, 0.46, -18
"""Half the width and height of a shape, and its slant in degrees: about those of a notehead."""
RING = 1.0


@dataclass(frozen=True)
class _Line:
    """Where the shapes lie on the page: a stave space in pixels, the middle position, the left."""

    box: Box
    space: float
    middle: float
    left: float

    def x(self, place: int) -> float:
        return self.left + place * APART * self.space

    def y(self, position: float) -> float:
        return self.box.y + self.box.height / 2 + (self.middle - position) * self.space / 2


def contour_layers(view: View, card: Card, box: Box) -> list[Layer]:
    """Draw a line of shapes: those played in ink, the one to play in a ring, the others pencilled.

    After a move the wrong way, or a hint, an arrow shows which way the line goes.
    """
    contour, start = card.contour, card.clef.position(card.target)
    positions = [start + height for height in contour.heights]
    line = _laid_out(card, box, len(positions))
    layers = [_stave_lines(line, drawn_lines(card.clef, contour.lines))]
    found = view.phase is not Phase.ASKED
    now = view.answer is not None and view.answer.verdict is Verdict.EXACT
    played = len(positions) if found else view.move + now
    for place, position in enumerate(positions):
        layers.append(_shape(line, place, position, place < played))
    if not found:
        layers.append(_ring(line, view.move, positions[view.move]))
        if view.move and view.help >= Help.LANDMARK:
            layers.append(_way(line, view.move, positions[view.move - 1], positions[view.move]))
    return layers


def _laid_out(card: Card, box: Box, shapes: int) -> _Line:
    lowest, highest = room(card.clef, card.contour.lines)
    across = (shapes - 1) * APART
    tall = (highest - lowest) / 2 + AROUND
    space = float(int(min(box.height / tall, box.width / (across + AROUND)) / 2) * 2)
    left = box.x + (box.width - across * space) / 2
    return _Line(box, space, (lowest + highest) / 2, left)


def _stave_lines(line: _Line, positions: tuple[int, ...]) -> Layer:
    thickness = max(1, round(glyphs.STAFF_LINE_THICKNESS * line.space))
    inset = line.box.height // 16
    box = line.box
    marks = "".join(
        f'<rect x="{box.x + inset}" y="{round(line.y(position)) - thickness // 2}" '
        f'width="{box.width - 2 * inset}" height="{thickness}" fill="{palette.INK}"/>'
        for position in positions
    )
    return Layer(box, marks)


def _shape(line: _Line, place: int, position: int, played: bool) -> Layer:
    x, y, space = line.x(place), line.y(position), line.space
    fill, edge = (palette.INK, palette.INK) if played else (palette.PENCIL_SHADE, palette.PENCIL)
    markup = (
        f'<ellipse rx="{WIDE * space:.1f}" ry="{TALL * space:.1f}" fill="{fill}" stroke="{edge}" '
        f'stroke-width="{0.09 * space:.1f}" '
        f'transform="translate({x:.1f},{y:.1f}) rotate({SLANT})"/>'
    )
    return Layer(_about(x, y, space), markup)


def _ring(line: _Line, place: int, position: int) -> Layer:
    x, y, space = line.x(place), line.y(position), line.space
    markup = (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{RING * space:.1f}" fill="none" '
        f'stroke="{palette.ACCENT}" stroke-width="{0.13 * space:.1f}"/>'
    )
    return Layer(_about(x, y, 1.2 * space), markup)


def _way(line: _Line, place: int, before: int, position: int) -> Layer:
    """Draw an arrow from the shape before to the one asked, between the two."""
    space = line.space
    x0, y0, x1, y1 = line.x(place - 1), line.y(before), line.x(place), line.y(position)
    length = hypot(x1 - x0, y1 - y0)
    along, down = (x1 - x0) / length, (y1 - y0) / length
    start, end = 0.85 * space, length - (RING + 0.1) * space
    head, width = 0.55 * space, 0.34 * space

    def at(way: float, aside: float = 0.0) -> str:
        return f"{x0 + along * way - down * aside:.1f} {y0 + down * way + along * aside:.1f}"

    markup = (
        f'<path d="M{at(start)}L{at(end - head)}" stroke="{palette.ACCENT}" '
        f'stroke-width="{0.18 * space:.1f}" stroke-linecap="round"/>'
        f'<path d="M{at(end)}L{at(end - head, width)}L{at(end - head, -width)}Z" '
        f'fill="{palette.ACCENT}"/>'
    )
    top, bottom = min(y0, y1) - space, max(y0, y1) + space
    return Layer(Box(int(x0), int(top), int(x1 - x0) + 1, int(bottom - top) + 1), markup)


def _about(x: float, y: float, half: float) -> Box:
    return Box(int(x - half), int(y - half), int(2 * half) + 2, int(2 * half) + 2)
