"""A line of music engraved: as SVG in pixels, with the place of every note head.

verovio lays the music out and gives SVG of its own; what is kept of it are its paths, placed
anew, so that every renderer can draw them and no style or font is asked for.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from xml.etree import ElementTree

from drills.engrave import glyphs, palette
from drills.engrave.glyphs import glyph
from landmarks.line import Line
from landmarks.translation import _

_UNITS = 180.0
"""verovio's units in a stave space, at its own scale of 100."""
_BRACE_ROOM, _END_ROOM = 300.0, 20.0
"""Left and right of the staves, in verovio's units."""
_LOOSEST = 1.35
"""How far a single system is spread at most, over its natural width."""
_TIGHTEST = 0.95
"""How far systems are squeezed at most, under their natural width."""
_SMALLEST_SPACE = 4.0
_HALVES = 2.0
"""verovio measures thicknesses in half stave spaces."""
_OPTIONS = {
    "adjustPageHeight": True,
    "breaks": "auto",
    "font": "Bravura",
    "footer": "none",
    "header": "none",
    "mnumInterval": 0,
    "minLastJustification": 0,
    "outputIndent": 0,
    "pageHeight": 60000,
    "pageMarginBottom": 0,
    "pageMarginTop": 0,
    "pageMarginLeft": _BRACE_ROOM / 10,
    "pageMarginRight": _END_ROOM / 10,
    "scale": 100,
    "spacingSystem": 5,
    "svgRemoveXlink": True,
    "useBraceGlyph": True,
    "xmlIdSeed": 1,
    "staffLineWidth": _HALVES * glyphs.STAFF_LINE_THICKNESS,
    "stemWidth": _HALVES * glyphs.STEM_THICKNESS,
    "barLineWidth": _HALVES * glyphs.THIN_BARLINE_THICKNESS,
    "ledgerLineThickness": _HALVES * glyphs.LEGER_LINE_THICKNESS,
    "ledgerLineExtension": _HALVES * glyphs.LEGER_LINE_EXTENSION,
}
_SVG = "{http://www.w3.org/2000/svg}"
_SHAPES = {"path", "polygon", "polyline", "ellipse", "rect"}
"""What is drawn of verovio's SVG beside the signs of its font; words are left out."""
_KEPT = {
    "d", "points", "x", "y", "width", "height", "rx", "ry", "cx", "cy", "stroke-width",
    "stroke-linecap", "stroke-linejoin", "stroke-dasharray",
}  # fmt: skip
_PLACE = re.compile(r"translate\(\s*(\S+?)[, ]+(\S+?)\s*\)(?:\s*scale\(\s*(\S+?)[, ]+(\S+?)\s*\))?")


@dataclass(frozen=True)
class Head:
    """Where a note head is drawn: its middle and its half width, in the picture's pixels."""

    x: float
    y: float
    half_width: float


@dataclass(frozen=True)
class EngravedLine:
    """A line as SVG markup in pixels from its own upper left corner.

    `heads` holds the places of the line's notes, in their order, `notes` the markup of each, in no
    colour of its own: its head, its stem, what stands before it. `frame` is all but the notes.
    In the markup each head has its note's id as `data-note`. `space` is the stave space.
    """

    markup: str
    frame: str
    notes: tuple[str, ...]
    width: float
    height: float
    space: float
    heads: tuple[Head, ...]

    def note_in(self, number: int, outline: str, fill: str) -> str:
        """Return the markup of a note as a pen draws it: filled, within an outline."""
        edge = 0.1 * _UNITS
        group = f'<g fill="{fill}" stroke="{outline}" stroke-width="{edge:g}">'
        return f"{group}{self.notes[number]}</g>".replace("currentColor", outline)

    def head_at(self, x: float, y: float, reach: float) -> int | None:
        """Return the number of the note whose head is nearest to a point, within `reach` pixels."""
        distances = [
            ((head.x - x) ** 2 + (head.y - y) ** 2, number)
            for number, head in enumerate(self.heads)
        ]
        nearest = min(distances, default=None)
        return None if nearest is None or nearest[0] > reach**2 else nearest[1]


@lru_cache(16)
def engraved_line(
    line: Line, width: int, height: int, largest_space: float, colour: str = palette.INK
) -> EngravedLine:
    """Engrave a line as large as it fits into so many pixels, on one system or several.

    The stave space is an even number of pixels, so that stave lines come out sharp. ValueError
    if verovio cannot read the line.
    """
    engraver = _Engraver(line)
    space = float(int(largest_space / 2) * 2)
    while True:
        drawing = engraver.drawing(width, space)
        if space <= _SMALLEST_SPACE or (drawing.height <= height and drawing.well_filled):
            return drawing.engraved(line, colour)
        space -= 2


class _Engraver:
    """verovio, with one line loaded."""

    def __init__(self, line: Line) -> None:
        import verovio

        verovio.enableLog(verovio.LOG_OFF)
        self._toolkit = verovio.toolkit()
        self._toolkit.setOptions(_OPTIONS | {"breaks": "none", "adjustPageWidth": True})
        if not self._toolkit.loadData(line.musicxml):
            raise ValueError(
                _("{source}: this line cannot be engraved; choose other bars").format(
                    source=line.source
                )
            )
        self._natural = float(_root(self._toolkit.renderToSVG(1)).get("width", "0")[:-2]) * 10

    def drawing(self, width: int, space: float) -> _Drawing:
        """Lay the line out for a page so wide (pixels) at this stave space (pixels)."""
        room = width * _UNITS / space
        loosest = self._natural * _LOOSEST
        page = int(min(room, loosest) / 10)
        self._toolkit.setOptions(
            _OPTIONS | {"breaks": "auto", "adjustPageWidth": False, "pageWidth": page}
        )
        self._toolkit.redoLayout()
        return _Drawing(_root(self._toolkit.renderToSVG(1)), space / _UNITS, self._natural)


def _coloured(markup: str, colour: str) -> str:
    return f'<g fill="{colour}">{markup}</g>'.replace("currentColor", colour)


def _root(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


@dataclass(frozen=True)
class _Drawing:
    """verovio's picture, to be drawn anew at `scale` pixels a unit."""

    root: ElementTree.Element
    scale: float
    natural: float
    """The width of the line on one system, in verovio's units."""

    @property
    def width(self) -> float:
        """In pixels."""
        return float(self.root.get("width", "0")[:-2]) * 10 * self.scale

    @property
    def height(self) -> float:
        """In pixels."""
        return float(self.root.get("height", "0")[:-2]) * 10 * self.scale

    @property
    def well_filled(self) -> bool:
        """Whether no bar is squeezed, and no system has less than half the bars of another."""
        systems = [e for e in self.root.iter(f"{_SVG}g") if "system" in e.get("class", "").split()]
        bars = [
            sum("measure" in e.get("class", "").split() for e in system.iter(f"{_SVG}g"))
            for system in systems
        ]
        natural = self.natural * self.scale * _TIGHTEST
        return natural <= len(systems) * self.width and 2 * min(bars) >= max(bars)

    def engraved(self, line: Line, colour: str) -> EngravedLine:
        """Return the picture as plain paths of one colour."""
        page = self.root.find(f"{_SVG}svg/{_SVG}g")
        marks = _Marks(self.root, self.scale)
        if page is not None:
            marks.read(page)
        if any(note.id not in marks.heads for note in line.notes):
            raise ValueError(
                _("{source}: this line cannot be engraved; choose other bars").format(
                    source=line.source
                )
            )
        notes = tuple(self._scaled(marks.of_note.pop(note.id)) for note in line.notes)
        rest = [*marks.shapes, *(shape for others in marks.of_note.values() for shape in others)]
        frame = _coloured("".join(marks.stave_lines) + self._scaled(rest), colour)
        markup = frame + _coloured("".join(notes), colour)
        heads = tuple(marks.heads[note.id] for note in line.notes)
        space = self.scale * _UNITS
        return EngravedLine(markup, frame, notes, self.width, self.height, space, heads)

    def _scaled(self, shapes: Sequence[str]) -> str:
        return f'<g transform="scale({self.scale:.6f})">{"".join(shapes)}</g>'


class _Marks:
    """The marks of a picture, as they are met in it."""

    def __init__(self, root: ElementTree.Element, scale: float) -> None:
        self.stave_lines: list[str] = []
        self.shapes: list[str] = []
        self.of_note: dict[str, list[str]] = {}
        self.heads: dict[str, Head] = {}
        self._scale = scale
        self._outlines = {
            symbol.get("id"): symbol[0].get("d", "") for symbol in root.iterfind(f".//{_SVG}defs/*")
        }
        self._offset = 0.0, 0.0

    def read(self, group: ElementTree.Element, note: str | None = None) -> None:
        """Take in a group; `note` is the id of the note whose head it is, if it is one."""
        before, kinds = self._offset, group.get("class", "").split()
        place = _PLACE.match(group.get("transform", ""))
        if place is not None:
            self._offset = before[0] + float(place[1]), before[1] + float(place[2])
        for element in group:
            self._take(element, kinds, note)
        self._offset = before

    def _take(self, element: ElementTree.Element, kinds: list[str], note: str | None) -> None:
        tag, inner = element.tag.removeprefix(_SVG), element.get("class", "").split()
        if tag == "g" and "placeholder" not in inner:
            self.read(element, element.get("id") if "note" in inner else note)
        elif tag == "use":
            self._sign(element, note, is_head="notehead" in kinds)
        elif tag == "path" and "staff" in kinds:
            self.stave_lines.append(self._stave_line(element))
        elif tag in _SHAPES:
            self._list_of(note).append(self._shape(tag, element))

    def _list_of(self, note: str | None) -> list[str]:
        return self.shapes if note is None else self.of_note.setdefault(note, [])

    def _sign(self, element: ElementTree.Element, note: str | None, *, is_head: bool) -> None:
        name = element.get("href", "#").removeprefix("#")
        place = _PLACE.match(element.get("transform", ""))
        if place is None or name not in self._outlines:
            return
        x, y = self._offset[0] + float(place[1]), self._offset[1] + float(place[2])
        across, upright = float(place[3] or 1), float(place[4] or 1)
        mark = f' data-note="{note}"' if is_head else ""
        self._list_of(note).append(
            f'<path{mark} transform="translate({x:g},{y:g}) scale({across:g},{-upright:g})" '
            f'd="{self._outlines[name]}"/>'
        )
        if note is not None and is_head:
            half = glyph(int(name[:4], 16)).width * glyphs.UNITS_PER_SPACE * across / 2
            self.heads[note] = Head((x + half) * self._scale, y * self._scale, half * self._scale)

    def _stave_line(self, element: ElementTree.Element) -> str:
        """Draw a stave line on whole pixels."""
        left, y, right, _y = map(float, re.findall(r"-?[\d.]+", element.get("d", "")))
        dx, dy = self._offset
        thickness = max(1, round(float(element.get("stroke-width", "0")) * self._scale))
        start, end = math.floor((left + dx) * self._scale), math.ceil((right + dx) * self._scale)
        top = round((y + dy) * self._scale) - thickness // 2
        return f'<rect x="{start}" y="{top}" width="{end - start}" height="{thickness}"/>'

    def _shape(self, tag: str, element: ElementTree.Element) -> str:
        kept = {name: value for name, value in element.items() if name in _KEPT}
        if "stroke-width" in kept:
            kept |= {"stroke": "currentColor"}
        if tag == "polyline":
            kept |= {"fill": "none"}
        if any(self._offset):
            kept |= {"transform": f"translate({self._offset[0]:g},{self._offset[1]:g})"}
        attributes = "".join(f' {name}="{value}"' for name, value in kept.items())
        return f"<{tag}{attributes}/>"
