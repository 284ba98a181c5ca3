"""A drawn mark for each pupil, so that a child who does not read finds the own place."""

from __future__ import annotations

from collections.abc import Mapping
from zlib import crc32

from drills.engrave import palette
from drills.engrave.layer import Box, Layer
from landmarks.translation import gettext_noop

SIDE = 100
"""The square in which the outlines below are drawn."""

MARKS = {
    gettext_noop("star"): "M50 8L61 37L92 38L68 58L76 88L50 71L24 88L32 58L8 38L39 37Z",
    gettext_noop("moon"): "M62 8A43 43 0 1 0 92 62A34 34 0 1 1 62 8Z",
    gettext_noop("leaf"): "M12 88C4 42 34 10 90 10C92 66 62 96 24 84L58 42L16 92Z",
    gettext_noop("drop"): "M50 6C66 32 80 46 80 64A30 30 0 0 1 20 64C20 46 34 32 50 6Z",
    gettext_noop("boat"): "M8 62H92L76 86H24ZM46 10V54H14ZM54 22V54H82Z",
    gettext_noop("house"): "M50 8L94 48H82V90H58V62H42V90H18V48H6Z",
    gettext_noop(
        "fish"
    ): "M6 50C22 22 54 18 74 44L94 26V74L74 56C54 82 22 78 6 50ZM26 44A5 5 0 1 0 26.1 44Z",
    gettext_noop("hill"): "M4 86L36 26L54 58L66 40L96 86Z",
    gettext_noop("kite"): "M50 4L82 40L50 78L18 40ZM46 80H54L62 96H38Z",
    gettext_noop("tree"): "M50 6L80 42H66L88 74H56V94H44V74H12L34 42H20Z",
    gettext_noop(
        "heart"
    ): "M50 90C10 60 4 40 10 26C18 8 42 10 50 30C58 10 82 8 90 26C96 40 90 60 50 90Z",
    gettext_noop("bell"): (
        "M50 8A8 8 0 0 1 58 17C76 22 78 40 80 56L90 74H10L20 56C22 40 24 22 42 17A8 8 0 0 1 50 8Z"
        "M38 80H62A12 12 0 0 1 38 80Z"
    ),
    gettext_noop("cup"): (
        "M12 20H74V36C94 34 96 66 70 68C64 82 56 86 50 86H36C22 86 12 66 12 40Z"
        "M74 46V58C84 58 84 46 74 46Z"
    ),
    gettext_noop("shell"): "M50 92L8 44C10 26 24 14 32 26C36 8 64 8 68 26C76 14 90 26 92 44Z",
    gettext_noop("sun"): (
        "M50 30A20 20 0 1 1 49.9 30ZM76 44L96 50L76 56ZM73 64L83 83L64 73ZM56 76L50 96L44 76Z"
        "M36 73L17 83L27 64ZM24 56L4 50L24 44ZM27 36L17 17L36 27ZM44 24L50 4L56 24Z"
        "M64 27L83 17L73 36Z"
    ),
    gettext_noop("flower"): (
        "M50 38A12 12 0 1 1 49.9 38ZM78 37A13 13 0 1 1 77.9 37ZM64 61A13 13 0 1 1 63.9 61Z"
        "M36 61A13 13 0 1 1 35.9 61ZM22 37A13 13 0 1 1 21.9 37ZM36 13A13 13 0 1 1 35.9 13Z"
        "M64 13A13 13 0 1 1 63.9 13Z"
    ),
    gettext_noop("cloud"): "M26 78A18 18 0 0 1 24 42A24 24 0 0 1 68 34A22 22 0 0 1 76 78Z",
    gettext_noop("umbrella"): (
        "M50 8A44 44 0 0 1 94 54H6A44 44 0 0 1 50 8Z"
        "M46 54H54V80A12 12 0 0 1 30 80H38A4 4 0 0 0 46 80Z"
    ),
    gettext_noop("crown"): "M10 80V30L32 52L50 18L68 52L90 30V80Z",
    gettext_noop("mushroom"): "M8 52A42 40 0 0 1 92 52ZM38 58H62L66 90H34Z",
}
"""Outlines in SVG path data, filled by the even-odd rule, by the names of what they show."""
PLUS = "M42 14H58V42H86V58H58V86H42V58H14V42H42Z"
"""The outline that stands for a new pupil."""
KNOWN = "M10 54L26 38L42 56L76 16L92 30L43 88Z"
"""The outline of yes."""
NEW_TO_ME = "M50 8A42 42 0 1 0 50 92A42 42 0 1 0 50 8ZM50 22A28 28 0 1 1 50 78A28 28 0 1 1 50 22Z"
"""The outline of what is open yet: a ring."""


def marks_of(kept: Mapping[str, str]) -> dict[str, str]:
    """Return each nickname its mark: the one kept for it, else a free one ("" is kept for none).

    No two pupils share a mark that is given here, as long as there are marks.
    """
    given = {nickname: mark for nickname, mark in kept.items() if mark in MARKS}
    for nickname in sorted(kept.keys() - given.keys()):
        start = crc32(nickname.encode()) % len(MARKS)
        names = [*MARKS][start:] + [*MARKS][:start]
        free = [name for name in names if name not in given.values()]
        given[nickname] = (free or names)[0]
    return given


def drawn_mark(outline: str, box: Box, colour: str = palette.INK) -> Layer:
    """Draw an outline as large as a box allows, in its middle."""
    side = min(box.width, box.height)
    x, y = box.x + (box.width - side) / 2, box.y + (box.height - side) / 2
    markup = (
        f'<path transform="translate({x:.1f},{y:.1f}) scale({side / SIDE:.4f})" '
        f'd="{outline}" fill="{colour}" fill-rule="evenodd"/>'
    )
    return Layer(box, markup)
