"""The staves of the handout, black on white: the week's notes with names, the line to spot in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from markupsafe import Markup

from drills.cards.card import Card
from drills.engrave import palette
from drills.engrave.layer import Box
from drills.engrave.line import EngravedLine, engraved_line
from drills.engrave.stave_card import Look, StaveCard, engraved_staves, note
from drills.engrave.words import words_width
from drills.reports.drawing import picture, words
from landmarks.line import Line
from landmarks.names import Naming, octave_name
from landmarks.stave import BASS, TREBLE, Clef
from landmarks.translation import _

_SPACE = 10.0
_BOX = Box(0, 0, 260, 210)
"""The grand stave's picture, in its own units."""
_FIRST_X, _LAST_X = 6.0, 18.4
"""Where notes stand along the stave, in stave spaces."""
_ROW, _NAME_SIZE = 14.0, 13.0
"""Of the names, in the picture's units; the size with room for a wider font."""
_LINE_WIDTH, _LINE_HEIGHT, _LINE_SPACE = 740, 330, 12.0
"""The room of the line to spot in, in its picture's units."""


def landmarks_picture(cards: Sequence[Card], naming: Naming) -> Markup:
    """Return an SVG of notes on the grand stave, each with its name outside the staves."""
    card = StaveCard(_BOX, (TREBLE, BASS), _SPACE)
    ordered = sorted(cards, key=lambda card: card.target)
    marks, ends = [layer.markup for layer in engraved_staves(card)], []
    for clef in card.clefs:
        shown = [shown for shown in ordered if shown.clef == clef]
        edge = _names_edge(card, clef, shown)
        apart = min((_LAST_X - _FIRST_X) / max(1, len(shown) - 1), 6.2)
        labels = [_label(one, ordered, naming) for one in shown]
        rows = _rows_of_names(labels, apart * _SPACE)
        for place, one in enumerate(shown):
            x = _FIRST_X + place * apart
            y = edge + _outward(clef) * _ROW * (place % rows)
            marks.append(note(card, clef, one.target, Look.INK, x).markup)
            name = labels[place]
            half = _NAME_SIZE * words_width(name) / 2
            middle = min(max(card.x(x), half), _BOX.width - half)
            marks.append(words(name, round(middle, 1), round(y, 1)))
        ends.append(edge + _outward(clef) * _ROW * rows)
    names = ", ".join(_label(one, ordered, naming) for one in ordered)
    title = _("On the grand stave: {notes}").format(notes=names)
    box = 0, ends[0], _BOX.width, ends[1] - ends[0]
    return picture([_black(marks)], box, title, "landmarks")


def _label(card: Card, others: Sequence[Card], naming: Naming) -> str:
    """Return a note's name, with its octave if another note of the picture has the same letter."""
    name, letter = card.named(naming), naming.of(card.target)
    alike = any(o.target != card.target and naming.of(o.target) == letter for o in others)
    octave = octave_name(card.target, naming) if alike else ""
    return f"{name} ({octave})" if octave else name


def _rows_of_names(names: Sequence[str], apart: float) -> int:
    """Return in how many rows names stand that follow each other so far apart."""
    widest = max((_NAME_SIZE * words_width(name) for name in names), default=0.0)
    return max(1, min(len(names), ceil(widest / apart)))


def _names_edge(card: StaveCard, clef: Clef, shown: Sequence[Card]) -> float:
    """Return the first baseline of names: above the treble stave, below the bass stave."""
    positions = [clef.position(one.target) for one in shown]
    if clef == TREBLE:
        heads = max(positions, default=0) + 1
        stems = max([p + 7 for p in positions if p < 4], default=0)
        return card.y(clef, max(11, heads, stems)) - 8
    heads = min(positions, default=8) - 1
    stems = min([p - 7 for p in positions if p >= 4], default=8)
    return card.y(clef, min(-1, heads, stems)) + 14


def _outward(clef: Clef) -> int:
    return -1 if clef == TREBLE else 1


def line_picture(line: Line, title: str, marks: str = "", kind: str = "line") -> Markup:
    """Return an SVG of a line of music; `marks` are drawn over it, in its own units."""
    engraved = engraved_for_paper(line)
    # A mark around an outer note reaches beyond the music.
    room = 2 * engraved.space
    box = 0, -room, round(engraved.width), round(engraved.height + 2 * room)
    return picture([engraved.markup, marks], box, title, kind)


def engraved_for_paper(line: Line) -> EngravedLine:
    """Engrave a line in black, for the width of the paper."""
    return engraved_line(line, _LINE_WIDTH, _LINE_HEIGHT, _LINE_SPACE, "black")


def ring(engraved: EngravedLine, number: int) -> str:
    """Return a ring around a note."""
    head, space = engraved.heads[number], engraved.space
    return (
        f'<ellipse cx="{head.x:.1f}" cy="{head.y:.1f}" rx="{head.half_width + 0.6 * space:.1f}" '
        f'ry="{1.05 * space:.1f}" fill="none" stroke="black" stroke-width="{0.25 * space:.1f}"/>'
    )


def frame(engraved: EngravedLine, number: int) -> str:
    """Return a square frame around a note, which has room for a ring inside."""
    head, space = engraved.heads[number], engraved.space
    half, tall = head.half_width + 0.85 * space, 1.35 * space
    return (
        f'<rect x="{head.x - half:.1f}" y="{head.y - tall:.1f}" width="{2 * half:.1f}" '
        f'height="{2 * tall:.1f}" fill="none" stroke="black" stroke-width="{0.22 * space:.1f}"/>'
    )


def _black(marks: Iterable[str]) -> str:
    """Turn the ink of the screen black, so that a printer needs no shade of grey for lines."""
    return "".join(marks).replace(palette.INK, "black")
