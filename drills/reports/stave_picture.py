"""Every note of a pupil on a drawn grand stave, in pencil or ink, with its time.

The staves mirror each other about middle C: notes that lie as far from it, treble G and bass F
for instance, stand in one column. More columns than a telephone is wide go on in a further system,
as written music does.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from markupsafe import Markup

from drills.cards.card import Card
from drills.engrave import glyphs, palette
from drills.engrave.glyphs import glyph
from drills.engrave.stave_card import ACCIDENTALS
from drills.learning.response import State
from drills.reports.drawing import picture, words
from drills.review.notes import NoteReview
from drills.text.formatting import decimal
from landmarks.names import LETTER, usual_naming
from landmarks.pitch import MIDDLE_C
from landmarks.stave import BASS, STAVE_LINES, TOP_LINE, TREBLE, Clef, ledger_lines
from landmarks.translation import _

SPACE = 10.0
"""One stave space, in the picture's own units."""
_LEFT, _CLEF_ROOM, _COLUMN, _RIGHT = 18.0, 38.0, 31.0, 4.0
_ROW = 14.0
_GAP_BETWEEN_STAVES = 5.5 * SPACE
_CLEFS = {TREBLE: glyphs.G_CLEF, BASS: glyphs.F_CLEF}
_FIRST_ROOM = 2.5 * SPACE
MOST_COLUMNS = 10

HATCHING = (
    '<pattern id="pencil" width="75" height="75" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(-60)"><rect width="75" height="75" fill="white"/>'
    f'<rect width="34" height="75" fill="{palette.PENCIL}"/></pattern>'
)
"""Pencil strokes, in the units of the music font; defined once in a page that shows notes."""

PENCIL_LOOK = f'fill="url(#pencil)" stroke="{palette.PENCIL}" stroke-width="30"'
"""Of a note head, as attributes, in the units of the music font."""
_LOOKS = {
    State.INK: f'fill="{palette.INK}"',
    State.PENCIL: PENCIL_LOOK,
    State.FADED: f'fill="#d5d8e3" stroke="{palette.FADED}" stroke-width="30"',
    State.NEW: f'fill="white" stroke="{palette.PENCIL}" stroke-width="22" stroke-dasharray="40 45"',
}


def stave_picture(
    notes: Sequence[NoteReview], named: Collection[Card], title: str, with_times: bool = True
) -> Markup:
    """Return `notes` as SVG, one for each system, with their median seconds or without.

    Those in `named` are marked as the review's first trouble.
    """
    columns = sorted({_column(note) for note in notes})
    systems = max(1, math.ceil(len(columns) / MOST_COLUMNS))
    length = math.ceil(len(columns) / systems)
    pictures = []
    for place in range(systems):
        own = columns[place * length : (place + 1) * length]
        shown = [note for note in notes if _column(note) in own]
        part = title
        if systems > 1:
            part = _("{title}, part {place} of {count}").format(
                title=title, place=place + 1, count=systems
            )
        pictures.append(_Picture(shown, own, length, frozenset(named), with_times).svg(part))
    return Markup("").join(pictures)


def note_sample(state: State) -> Markup:
    """Return a small SVG of a notehead as it is drawn in a state, for a legend or a table."""
    size = {"width": "21", "height": "18"}
    return picture([_head(state, 0, 0)], (-7, -6, 14, 12), kind="sample", attributes=size)


class _Picture:
    """One system, with room for `length` columns."""

    def __init__(
        self,
        notes: Sequence[NoteReview],
        columns: Sequence[tuple[int, int]],
        length: int,
        named: frozenset[Card],
        with_times: bool,
    ) -> None:
        self._notes = notes
        self._named = named
        self._rows = 1 + with_times
        self._columns = columns
        highest = max([_position(n) for n in notes if n.card.clef == TREBLE], default=0)
        lowest = min([_position(n) for n in notes if n.card.clef == BASS], default=0)
        above = max(0.0, (highest - TOP_LINE) * SPACE / 2)
        below = max(0.0, -lowest * SPACE / 2)
        self._tops = {TREBLE: self._rows * _ROW + _FIRST_ROOM + above}
        self._tops[BASS] = self._tops[TREBLE] + 4 * SPACE + _GAP_BETWEEN_STAVES
        self._bottom_text = self._tops[BASS] + 4 * SPACE + below + _FIRST_ROOM
        self._height = self._bottom_text + self._rows * _ROW
        self._width = _LEFT + _CLEF_ROOM + _COLUMN * max(1, length) + _RIGHT

    def svg(self, title: str) -> Markup:
        """Return the whole picture."""
        marks = [self._stave(clef) for clef in (TREBLE, BASS)]
        marks.append(self._brace())
        marks += [self._note(note) for note in self._notes]
        return picture(marks, (0, 0, self._width, self._height), title, "stave")

    def _y(self, clef: Clef, position: float) -> float:
        return self._tops[clef] + (TOP_LINE - position) * SPACE / 2

    def _stave(self, clef: Clef) -> str:
        right = self._width - _RIGHT
        lines = "".join(f"M{_LEFT:g} {self._y(clef, line):g}H{right:g}" for line in STAVE_LINES)
        sign = _placed(
            _CLEFS[clef], _LEFT + 6, self._y(clef, clef.line_position), f'fill="{palette.INK}"'
        )
        return f'<path d="{lines}" stroke="{palette.INK}" stroke-width="1"/>{sign}'

    def _brace(self) -> str:
        top, bottom = self._y(TREBLE, TOP_LINE), self._y(BASS, 0)
        sign = glyph(glyphs.BRACE)
        upright = (bottom - top) / (sign.height * glyphs.UNITS_PER_SPACE)
        across = 1.2 * SPACE / (sign.width * glyphs.UNITS_PER_SPACE)
        return (
            f'<path transform="translate({_LEFT - 14:g},{bottom:g}) '
            f'scale({across:.5f},{-upright:.5f})" d="{sign.outline}" fill="{palette.INK}"/>'
            f'<path d="M{_LEFT:g} {top:g}V{bottom:g}" stroke="{palette.INK}" stroke-width="1.6"/>'
        )

    def _note(self, note: NoteReview) -> str:
        card, state = note.card, note.standing.state
        x = _LEFT + _CLEF_ROOM + _COLUMN * (self._columns.index(_column(note)) + 0.5)
        y = self._y(card.clef, _position(note))
        ledgers = "".join(
            f"M{x - 10:g} {self._y(card.clef, line):g}h20" for line in ledger_lines(_position(note))
        )
        marks = [f'<path d="{ledgers}" stroke="{palette.INK}" stroke-width="1.3"/>'] * bool(ledgers)
        marks.append(_head(state, x, y))
        if card.target.alteration:
            marks.append(_placed(ACCIDENTALS[card.target.alteration], x - 15, y, _LOOKS[State.INK]))
        if card in self._named:
            marks.append(_mark(x, y, upward=card.clef == BASS))
        return "".join(marks) + self._words(note, x)

    def _words(self, note: NoteReview, x: float) -> str:
        target, naming = note.card.target, usual_naming()
        has_sign = target.alteration and naming.suffixes == LETTER.suffixes
        name = naming.of(target.natural() if has_sign else target)
        time = decimal(note.seconds.value) if note.seconds else "–"
        first = _ROW - 3 if note.card.clef == TREBLE else self._bottom_text + _ROW - 3
        marks: list[str] = [words(name, x, first, "name")]
        if has_sign:
            sign = ACCIDENTALS[target.alteration]
            marks.append(_placed(sign, x + 5, first - 4, _LOOKS[State.INK], 0.55))
        if self._rows > 1:
            marks.append(words(time, x, first + _ROW))
        return "".join(marks)


def _column(note: NoteReview) -> tuple[int, int]:
    """Return how far outward from middle C a note lies on its own stave, and its alteration."""
    pitch = note.card.target
    steps = pitch.diatonic - MIDDLE_C.diatonic
    return (steps if note.card.clef == TREBLE else -steps), pitch.alteration


def _position(note: NoteReview) -> int:
    return note.card.clef.position(note.card.target)


def _head(state: State, x: float, y: float) -> str:
    sign = glyph(glyphs.NOTEHEAD_BLACK)
    return _placed(glyphs.NOTEHEAD_BLACK, x - sign.width * SPACE / 2, y, _LOOKS[state])


def _mark(x: float, y: float, upward: bool) -> str:
    """Point at a note that the first trouble names: from above, or upwards from below."""
    end, start = (y + 8, y + 17) if upward else (y - 8, y - 17)
    return (
        f'<path d="M{x:g} {end:g}L{x - 4:g} {start:g}H{x + 4:g}Z" fill="{palette.ACCENT}" '
        'stroke="white" stroke-width="1.5" paint-order="stroke"/>'
    )


def _placed(code_point: int, x: float, y: float, look: str, size: float = 1.0) -> str:
    scale = size * SPACE / glyphs.UNITS_PER_SPACE
    return (
        f'<path transform="translate({x:.1f},{y:.1f}) scale({scale:g},{-scale:g})" '
        f'd="{glyph(code_point).outline}" {look}/>'
    )
