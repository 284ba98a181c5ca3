"""The glyphs of the music font: outlines by their SMuFL code points.

The font is Bravura (SIL Open Font License), whose outlines the verovio package carries. They
are given in thousandths of an em; SMuFL sets one em to four stave spaces.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path

UNITS_PER_SPACE = 250

# Code points and names: SMuFL 1.4, "Staff brackets and dividers", "Clefs", "Noteheads",
# "Standard accidentals".
BRACE = 0xE000
G_CLEF = 0xE050
F_CLEF = 0xE062
NOTEHEAD_BLACK = 0xE0A4
FLAT = 0xE260
SHARP = 0xE262
DOUBLE_SHARP = 0xE263
DOUBLE_FLAT = 0xE264

STAFF_LINE_THICKNESS = 0.13
LEGER_LINE_THICKNESS = 0.16
LEGER_LINE_EXTENSION = 0.4
STEM_THICKNESS = 0.12
STEM_LENGTH = 3.5
THIN_BARLINE_THICKNESS = 0.16
"""Engraving defaults in stave spaces: Bravura's metadata, from memory; the stem of an octave
is common practice, no source."""


@dataclass(frozen=True)
class Glyph:
    """An outline as SVG path data (y upwards, 250 units a stave space) and its box.

    `left`, `bottom`, `width`, `height` are in stave spaces from the glyph's origin.
    """

    outline: str
    left: float
    bottom: float
    width: float
    height: float


@cache
def glyph(code_point: int) -> Glyph:
    """Return a glyph of the music font. LookupError if the font has none at that code point."""
    name = f"{code_point:04X}"
    file = _font_folder() / "Bravura" / f"{name}.xml"
    found = re.search(r' d="([^"]+)"', file.read_text("utf-8")) if file.is_file() else None
    box = re.search(rf'<g c="{name}" x="(\S+)" y="(\S+)" w="(\S+)" h="(\S+)"', _boxes())
    if found is None or box is None:
        raise LookupError(f"the music font has no glyph U+{name}")
    left, bottom, width, height = (float(number) / UNITS_PER_SPACE for number in box.groups())
    return Glyph(found[1], left, bottom, width, height)


@cache
def _boxes() -> str:
    return (_font_folder() / "Bravura.xml").read_text("utf-8")


@cache
def _font_folder() -> Path:
    package = find_spec("verovio")
    if package is None or package.origin is None:
        raise LookupError("verovio, which carries the music font, is not installed")
    return Path(package.origin).parent / "data"
