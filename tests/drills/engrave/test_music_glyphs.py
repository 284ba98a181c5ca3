"""Glyphs of the music font against SMuFL.

Code points and names: SMuFL 1.4, tables "Staff brackets and dividers", "Clefs", "Noteheads",
"Standard accidentals (12-EDO)". Boxes: `glyphBBoxes` of Bravura's own metadata, which SMuFL gives
as (left, bottom, right, top) in stave spaces; from memory.
"""

import re

import pytest

from drills.engrave import glyphs
from drills.engrave.glyphs import UNITS_PER_SPACE, glyph

CODE_POINTS = {
    "BRACE": 0xE000,  # brace
    "G_CLEF": 0xE050,  # gClef
    "F_CLEF": 0xE062,  # fClef
    "NOTEHEAD_BLACK": 0xE0A4,  # noteheadBlack
    "FLAT": 0xE260,  # accidentalFlat
    "SHARP": 0xE262,  # accidentalSharp
    "DOUBLE_SHARP": 0xE263,  # accidentalDoubleSharp
    "DOUBLE_FLAT": 0xE264,  # accidentalDoubleFlat
}
BOXES = {
    "G_CLEF": (0.0, -2.632, 2.684, 4.392),
    "F_CLEF": (-0.02, -2.54, 2.736, 1.048),
    "NOTEHEAD_BLACK": (0.0, -0.5, 1.18, 0.5),
    "FLAT": (0.0, -0.7, 0.904, 1.756),
    "SHARP": (0.0, -1.392, 0.996, 1.4),
    "DOUBLE_SHARP": (0.0, -0.5, 0.988, 0.508),
    "DOUBLE_FLAT": (0.0, -0.7, 1.644, 1.748),
}


@pytest.mark.parametrize("name", CODE_POINTS)
def test_each_sign_has_the_code_point_of_the_standard(name):
    assert getattr(glyphs, name) == CODE_POINTS[name]


@pytest.mark.parametrize("name", BOXES)
def test_each_sign_has_the_size_that_the_fonts_metadata_gives_it(name):
    sign = glyph(CODE_POINTS[name])
    box = (sign.left, sign.bottom, sign.left + sign.width, sign.bottom + sign.height)
    assert box == pytest.approx(BOXES[name], abs=0.005)


def points(outline):
    """The corners and control points of an outline, followed command by command."""
    x = y = 0.0
    for command, numbers in re.findall(r"([A-Za-z])([^A-Za-z]*)", outline):
        values = [float(number) for number in re.findall(r"-?\d*\.?\d+", numbers)]
        relative = command.islower()
        match command.upper():
            case "H":
                x = values[-1] + x * relative
                yield x, y
            case "V":
                y = values[-1] + y * relative
                yield x, y
            case "Z":
                pass
            case kind:
                size = {"M": 2, "L": 2, "C": 6, "S": 4, "Q": 4, "T": 2}[kind]
                for start in range(0, len(values), size):
                    pairs = values[start : start + size]
                    for px, py in zip(pairs[::2], pairs[1::2], strict=True):
                        point = (px + x * relative, py + y * relative)
                        yield point
                    x, y = point


@pytest.mark.parametrize("name", BOXES)
def test_the_outline_of_each_sign_fills_its_box(name):
    sign = glyph(CODE_POINTS[name])
    xs, ys = zip(*points(sign.outline), strict=True)
    outline = [min(xs), min(ys), max(xs), max(ys)]
    # Control points may lie a little outside the curve they pull.
    box = [edge * UNITS_PER_SPACE for edge in BOXES[name]]
    assert outline == pytest.approx(box, abs=0.12 * UNITS_PER_SPACE)


def test_an_em_is_four_stave_spaces():
    assert UNITS_PER_SPACE * 4 == 1000  # SMuFL 1.4, "Glyph registration": 0.25 em is one space


def test_a_sign_that_the_font_has_not_is_an_error_that_names_it():
    with pytest.raises(LookupError, match=r"U\+E0000"):
        glyph(0xE0000)
