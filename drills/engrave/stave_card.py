"""The stave card: where a stave and its notes lie on the page, and their engraving."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from drills.engrave import glyphs, palette
from drills.engrave.glyphs import Glyph, glyph
from drills.engrave.layer import Box, Layer, rectangle
from landmarks.pitch import Pitch
from landmarks.stave import BASS, STAVE_LINES, TREBLE, Clef, ledger_lines

STAVE_LENGTH = 20.0
"""In stave spaces, as every length here that is not said to be in pixels."""
SINGLE_STAVE_ROOM = 15.0
GRAND_STAVE_ROOM = 22.0
GRAND_STAVE_GAP = 6.0
LONG_STAVE_SAVES = 4.0
"""What a long stave needs less room for above and below: it shows no wrong keys far away."""
LOWEST_POSITION, HIGHEST_POSITION = -8, 16
"""What a card has room for: four ledger lines on each side of the stave."""

SHORTEST_ARROW, ARROW_HEAD = 1.9, 1.05

_CLEF_GLYPHS = {TREBLE: glyphs.G_CLEF, BASS: glyphs.F_CLEF}
ACCIDENTALS = {
    -2: glyphs.DOUBLE_FLAT, -1: glyphs.FLAT, 1: glyphs.SHARP, 2: glyphs.DOUBLE_SHARP,
}  # fmt: skip
_STEM_ANCHOR = 0.168
"""How far from a notehead's middle a stem joins it: Bravura's stemUpSE, in stave spaces
(from memory)."""
MOST_PRESSED = 0.7
"""How much of the outline's colour the head of the darkest pencil note has: its hatching stays."""
_STEM_GAP = 0.5
"""What separates the pieces of a broken stem, in lengths of a piece."""


class Look(Enum):
    """How a note is drawn: (outline colour, fill colour, hatched, pieces of its stem)."""

    PENCIL = (palette.PENCIL, palette.PENCIL_SHADE, True, 1)
    INK = (palette.INK, palette.INK, False, 1)
    FADED = (palette.FADED, palette.FADED, False, 3)
    """Pale ink, and a broken stem: never colour alone."""
    PLAYED = (palette.ACCENT, palette.CARD, False, 0)
    """A key that was pressed: a hollow head without a stem."""


@dataclass(frozen=True)
class StaveCard:
    """A card with one stave, or with both staves of the grand stave.

    `box` is the card on the page and `space` the stave space, in pixels; `length` is that of the
    stave lines, in stave spaces.
    """

    box: Box
    clefs: tuple[Clef, ...]
    space: float
    length: float = STAVE_LENGTH

    @property
    def left(self) -> float:
        """The x, in pixels, where the stave lines begin."""
        return self.box.x + (self.box.width - self.length * self.space) / 2

    def x(self, spaces: float) -> float:
        """Return the x, in pixels, of a place so many stave spaces along the stave."""
        return self.left + spaces * self.space

    def y(self, clef: Clef, position: float) -> float:
        """Return the y, in pixels, of a stave position."""
        middle = self.box.y + self.box.height / 2
        if len(self.clefs) == 1:
            return middle + (4 - position) * self.space / 2
        bottom = -GRAND_STAVE_GAP / 2 if clef == TREBLE else GRAND_STAVE_GAP / 2 + 4
        return middle + (bottom - position / 2) * self.space

    def fits(self, clef: Clef, position: int) -> bool:
        """Return whether a note at this position still lies on the card."""
        if clef not in self.clefs or not LOWEST_POSITION <= position <= HIGHEST_POSITION:
            return False
        inside = self.box.y + self.space, self.box.bottom - self.space
        return inside[0] <= self.y(clef, position) <= inside[1]


def stave_card(box: Box, clefs: tuple[Clef, ...], reach: float | None = None) -> StaveCard:
    """Lay out a card in a box: the largest staves that it has room for, on whole pixels.

    `reach` is the room above and below the staves, None for the four ledger lines of a far key.
    """
    room = SINGLE_STAVE_ROOM if len(clefs) == 1 else GRAND_STAVE_ROOM
    if reach is not None:
        room = min(room, 4 * len(clefs) + GRAND_STAVE_GAP * (len(clefs) - 1) + 2 * reach)
    space = min(box.height / room, box.width / (STAVE_LENGTH + 4))
    return StaveCard(box, clefs, max(4.0, float(int(space / 2) * 2)))


def long_stave_card(box: Box, clefs: tuple[Clef, ...]) -> StaveCard:
    """Lay out a card whose staves are as tall as its box allows and as long as it is wide."""
    room = SINGLE_STAVE_ROOM if len(clefs) == 1 else GRAND_STAVE_ROOM
    space = max(4.0, float(int(box.height / (room - LONG_STAVE_SAVES) / 2) * 2))
    return StaveCard(box, clefs, space, box.width / space - 4)


def empty_card(box: Box) -> list[Layer]:
    """Draw the card that everything stands on, with a fine edge."""
    edge = max(1, box.height // 300)
    inner = Box(box.x + edge, box.y + edge, box.width - 2 * edge, box.height - 2 * edge)
    return [rectangle(box, palette.PENCIL_SHADE), rectangle(inner, palette.CARD)]


def engraved_staves(card: StaveCard) -> list[Layer]:
    """Draw lines and clefs, and the brace and bar line of a grand stave.

    The lines are plain boxes, which cost nothing to draw however long they are.
    """
    layers = [line for clef in card.clefs for line in _stave_lines(card, clef)]
    marks = [_clef(card, clef) for clef in card.clefs]
    if len(card.clefs) > 1:
        marks.append(_brace(card))
    space = card.space
    top = card.y(card.clefs[0], 8) - 3 * space
    bottom = card.y(card.clefs[-1], 0) + 3 * space
    box = Box(int(card.left - 2 * space), int(top), int(7 * space), int(bottom - top))
    return [*layers, Layer(box, "".join(marks))]


def note(
    card: StaveCard, clef: Clef, pitch: Pitch, look: Look, x: float, darkness: float = 0.0
) -> Layer:
    """Draw a note with its ledger lines, accidental and stem; `x` in spaces, head's middle.

    By its `darkness` (0 to 1) a note in pencil is pressed on harder.
    """
    position = clef.position(pitch)
    outline, fill, hatched, pieces = look.value
    marks = [_ledger(card, clef, line, x, outline) for line in ledger_lines(position)]
    if pieces:
        marks.append(_stem(card, clef, position, x, outline, pieces))
    marks.append(_head(card, clef, position, x, outline, fill))
    if hatched:
        if darkness:
            pressed = _head(card, clef, position, x, outline, outline)
            marks.append(f'<g opacity="{MOST_PRESSED * darkness:.2f}">{pressed}</g>')
        marks.append(_hatching(card, clef, position, x))
    if pitch.alteration:
        sign = glyph(ACCIDENTALS[pitch.alteration])
        left = card.x(x - 0.59 - 0.35 - sign.width)
        marks.append(_placed(sign, left, card.y(clef, position), card.space, outline))
    ends = [card.y(clef, p) for p in (position, 4 if pieces else position, *ledger_lines(position))]
    top, bottom = min(ends) - 4 * card.space, max(ends) + 4 * card.space
    left, width = card.x(x - 2.6), 4.6 * card.space
    return Layer(Box(int(left), int(top), int(width), int(bottom - top)), "".join(marks))


def ring(card: StaveCard, clef: Clef, pitch: Pitch, x: float) -> Layer:
    """Draw a ring around the head of a note at `x` (spaces)."""
    middle, y, space = card.x(x), card.y(clef, clef.position(pitch)), card.space
    box = Box(int(middle - 2 * space), int(y - 2 * space), int(4 * space), int(4 * space))
    markup = (
        f'<circle cx="{middle:.1f}" cy="{y:.1f}" r="{1.3 * space:.1f}" fill="none" '
        f'stroke="{palette.ACCENT}" stroke-width="{0.22 * space:.1f}"/>'
    )
    return Layer(box, markup)


def clef_mark(card: StaveCard, clef: Clef, position: int, x: float) -> Layer:
    """Draw a clef sign by itself as a remark; its own line lies at `position`."""
    sign = glyph(_CLEF_GLYPHS[clef])
    size = card.space * 0.75
    left, y = card.x(x) - sign.width * size / 2, card.y(card.clefs[0], position)
    box = Box(int(left - size), int(y - 5 * size), int(5 * size), int(8.5 * size))
    return Layer(box, _placed(sign, left, y, size, palette.ACCENT))


def arrow(card: StaveCard, x: float, start: float, end: float) -> Layer:
    """Draw an upright arrow at `x` (spaces) from one y to another (pixels)."""
    space, middle = card.space, card.x(x)
    way = -1 if end < start else 1
    # However near the two lie, the arrow is larger than a note head (1.18 by 1 stave space).
    start = end - way * max(abs(end - start), SHORTEST_ARROW * space)
    head = ARROW_HEAD * space
    neck = end - way * head
    width = 0.6 * head
    markup = (
        f'<path d="M{middle:.1f} {start:.1f}V{neck:.1f}" stroke="{palette.ACCENT}" '
        f'stroke-width="{space * 0.22:.1f}" stroke-linecap="round"/>'
        f'<path d="M{middle:.1f} {end:.1f}L{middle - width:.1f} {neck:.1f}H{middle + width:.1f}Z" '
        f'fill="{palette.ACCENT}"/>'
    )
    top, bottom = min(start, end) - space, max(start, end) + space
    return Layer(Box(int(middle - space), int(top), int(2 * space), int(bottom - top) + 1), markup)


def counted_way(
    card: StaveCard, start: tuple[Clef, Pitch], end: tuple[Clef, Pitch], x0: float, x1: float
) -> Layer:
    """Draw the way from one note to another: a line, and a dot on every line and space between.

    `x0` and `x1` are the middles of the two heads, in spaces.
    """
    space = card.space
    (clef0, pitch0), (clef1, pitch1) = start, end
    first, last = clef0.position(pitch0), clef0.position(pitch1)
    places = [(x0, card.y(clef0, first)), (x1, card.y(clef1, clef1.position(pitch1)))]
    points = [(card.x(x), y) for x, y in places]
    (left, from_y), (right, to_y) = points
    between = range(1, abs(last - first))
    share = [n / max(1, abs(last - first)) for n in between]
    dots = "".join(
        f'<circle cx="{left + (right - left) * at:.1f}" cy="{from_y + (to_y - from_y) * at:.1f}" '
        f'r="{0.34 * space:.1f}" fill="{palette.ACCENT}"/>'
        for at in share
    )
    gap = 0.95 * space
    steep = (to_y - from_y) / (right - left)
    markup = (
        f'<path d="M{left + gap:.1f} {from_y + gap * steep:.1f}'
        f'L{right - gap:.1f} {to_y - gap * steep:.1f}" stroke="{palette.ACCENT}" '
        f'stroke-width="{0.14 * space:.1f}" stroke-linecap="round"/>{dots}'
    )
    top, bottom = min(from_y, to_y) - space, max(from_y, to_y) + space
    return Layer(Box(int(left), int(top), int(right - left) + 1, int(bottom - top) + 1), markup)


def _stave_lines(card: StaveCard, clef: Clef) -> list[Layer]:
    thickness = max(1, round(glyphs.STAFF_LINE_THICKNESS * card.space))
    left, right = round(card.left), round(card.left + card.length * card.space)
    return [
        rectangle(
            Box(left, round(card.y(clef, line)) - thickness // 2, right - left, thickness),
            palette.INK,
        )
        for line in STAVE_LINES
    ]


def _clef(card: StaveCard, clef: Clef) -> str:
    sign = glyph(_CLEF_GLYPHS[clef])
    return _placed(sign, card.x(0.8), card.y(clef, clef.line_position), card.space, palette.INK)


def _brace(card: StaveCard) -> str:
    top, bottom = card.y(TREBLE, 8), card.y(BASS, 0)
    sign = glyph(glyphs.BRACE)
    upright = (bottom - top) / (sign.height * glyphs.UNITS_PER_SPACE)
    across = 1.3 * card.space / (sign.width * glyphs.UNITS_PER_SPACE)
    thickness = glyphs.THIN_BARLINE_THICKNESS * card.space
    return (
        f'<path transform="translate({card.left - 1.7 * card.space:.2f},{bottom:.2f}) '
        f'scale({across:.5f},{-upright:.5f})" d="{sign.outline}" fill="{palette.INK}"/>'
        f'<rect x="{card.left:.1f}" y="{top:.1f}" width="{thickness:.2f}" '
        f'height="{bottom - top:.1f}" fill="{palette.INK}"/>'
    )


def _placed(
    sign: Glyph, x: float, y: float, space: float, fill: str, stroke: str = "", line: float = 0.0
) -> str:
    scale = space / glyphs.UNITS_PER_SPACE
    edge = f' stroke="{stroke}" stroke-width="{line / scale:.1f}"' if stroke else ""
    return (
        f'<path transform="translate({x:.2f},{y:.2f}) scale({scale:.5f},{-scale:.5f})" '
        f'd="{sign.outline}" fill="{fill}"{edge}/>'
    )


def _head(card: StaveCard, clef: Clef, position: int, x: float, outline: str, fill: str) -> str:
    sign = glyph(glyphs.NOTEHEAD_BLACK)
    left = card.x(x) - sign.width * card.space / 2
    line = 0.0 if outline == fill else 0.16 * card.space
    edge = outline if line else ""
    return _placed(sign, left, card.y(clef, position), card.space, fill, edge, line)


def _hatching(card: StaveCard, clef: Clef, position: int, x: float) -> str:
    """Draw three pencil strokes across the head."""
    space, middle, y = card.space, card.x(x), card.y(clef, position)
    strokes = "".join(
        f"M{middle + (at - 0.16) * space:.1f} {y + tall * space:.1f}"
        f"L{middle + (at + 0.16) * space:.1f} {y - tall * space:.1f}"
        for at, tall in ((-0.27, 0.2), (0.0, 0.32), (0.27, 0.2))
    )
    return (
        f'<path d="{strokes}" stroke="{palette.PENCIL}" stroke-width="{0.09 * space:.2f}" '
        'stroke-linecap="round" fill="none"/>'
    )


def _stem(card: StaveCard, clef: Clef, position: int, x: float, colour: str, pieces: int) -> str:
    """Draw a stem of an octave, or as far as the middle line from beyond the stave."""
    up = position < 4
    length = max(glyphs.STEM_LENGTH, abs(4 - position) / 2)
    thickness = max(1.0, glyphs.STEM_THICKNESS * card.space)
    half = glyph(glyphs.NOTEHEAD_BLACK).width * card.space / 2
    y = card.y(clef, position)
    left = card.x(x) + half - thickness if up else card.x(x) - half
    start = y - _STEM_ANCHOR * card.space if up else y + _STEM_ANCHOR * card.space
    end = y - length * card.space if up else y + length * card.space
    piece = abs(end - start) / (pieces + _STEM_GAP * (pieces - 1))
    return "".join(
        f'<rect x="{left:.2f}" y="{min(start, end) + place * piece * (1 + _STEM_GAP):.1f}" '
        f'width="{thickness:.2f}" height="{piece:.1f}" fill="{colour}"/>'
        for place in range(pieces)
    )


def _ledger(card: StaveCard, clef: Clef, line: int, x: float, colour: str) -> str:
    thickness = max(1, round(glyphs.LEGER_LINE_THICKNESS * card.space))
    half = glyph(glyphs.NOTEHEAD_BLACK).width / 2 + glyphs.LEGER_LINE_EXTENSION
    return (
        f'<rect x="{card.x(x - half):.1f}" y="{round(card.y(clef, line)) - thickness // 2}" '
        f'width="{2 * half * card.space:.1f}" height="{thickness}" fill="{colour}"/>'
    )
