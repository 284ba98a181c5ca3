"""The pages of reading, as layers: a line of music that goes from pencil to ink.

Pure: a view and a size in, layers out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from drills.engrave import glyphs, palette
from drills.engrave.glyphs import glyph
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.line import EngravedLine, Head
from drills.engrave.stave_card import ACCIDENTALS, empty_card
from drills.sessions.reading.view import ReadingView, WrongKey
from drills.sessions.view import Phase
from drills.window.pages.buttons import Button, drawn_button
from drills.window.pages.card_words import Remark
from drills.window.pages.keyboard_strip import Strip, drawn_strip, held_key, strip_of
from drills.window.pages.line_placement import LinePlacement
from drills.window.pages.reading_words import lines_read, reading_remark
from landmarks.line import Line, LineNote
from landmarks.names import Naming
from landmarks.stave import ledger_lines
from landmarks.translation import _

ONCE_MORE, GO_ON = "once more", "go on"
_FARTHEST = 12
"""A wrong key more steps away than this is told in words: on a line it would lie in other music."""
_HEAD = 0.59
"""Half the width of a note head, in stave spaces (Bravura's black note head)."""


@dataclass(frozen=True)
class ReadingSetting(LinePlacement):
    """The size of the window, in pixels, the names of notes, and where things stand."""

    width: int
    height: int
    naming: Naming
    large: bool = False
    """Whether notes and words take room from the margins."""

    share_of_card: ClassVar = 0.8

    @property
    def card_box(self) -> Box:
        """The box of the card that the line stands on."""
        top = self.margin
        return Box(top, top, self.width - 2 * top, round(self.height * 0.66) - top)

    @property
    def strip_box(self) -> Box:
        """The box of the keyboard strip."""
        tall = round(self.height * 0.155)
        top = self.height - self.margin - tall
        return Box(self.margin, top, self.width - 2 * self.margin, tall)

    def buttons(self, view: ReadingView) -> list[Button]:
        """Return what may be touched beside the words; once more is offered when something is read.

        On the last page there is nothing to go on to.
        """
        if view.phase is Phase.FINISHED:
            return []
        across, tall = round(self.width * 0.15), round(self.height * 0.075)
        y = round(self.height * 0.735) - tall // 2
        again = Box(self.margin, y, across, tall)
        on = Box(self.width - self.margin - across, y, across, tall)
        buttons = [Button(GO_ON, _("go on"), on, size=0.42)]
        if view.read:
            buttons.append(Button(ONCE_MORE, _("once more"), again, size=0.42))
        return buttons

    def strip(self, view: ReadingView) -> Strip:
        """Lay out the strip: the keys of the line."""
        line = view.line
        keys = [60] if line is None else [line.notes[number].key for number in view.to_read]
        return strip_of(self.strip_box, keys)


@dataclass(frozen=True)
class _Placed:
    """A line as it stands in the window."""

    line: Line
    engraved: EngravedLine
    left: int
    top: int
    box: Box
    """Beyond it nothing is drawn."""

    @property
    def space(self) -> float:
        """The stave space."""
        return self.engraved.space

    def head(self, number: int) -> Head:
        """Return where a note's head stands in the window."""
        head = self.engraved.heads[number]
        return Head(self.left + head.x, self.top + head.y, head.half_width)

    def layer(self, markup: str, box: Box | None = None) -> Layer:
        """Return a layer of markup in the line's own pixels."""
        place = f'<g transform="translate({self.left},{self.top})">{markup}</g>'
        return Layer(box or self.box, place)

    def around(self, head: Head, across: float, above: float, below: float) -> Box:
        """Return a box about a head, in stave spaces, within the card."""
        left = max(self.box.x, int(head.x - across * self.space))
        top = max(self.box.y, int(head.y - above * self.space))
        right = min(self.box.right, int(head.x + across * self.space) + 1)
        bottom = min(self.box.bottom, int(head.y + below * self.space) + 1)
        return Box(left, top, right - left, bottom - top)


def reading_page(view: ReadingView, setting: ReadingSetting) -> list[Layer]:
    """Return the layers of the page on which a line is read, or of what was read today."""
    page = [rectangle(Box(0, 0, setting.width, setting.height), palette.PAPER)]
    page += empty_card(setting.card_box)
    if view.line is not None:
        page += _line_layers(view, _placed(view.line, setting))
    page += _strip_layers(view, setting)
    if view.phase is Phase.FINISHED:
        return [*page, *_words(Remark(lines_read(view)), setting)]
    page += _words(reading_remark(view, setting.naming), setting)
    for button in setting.buttons(view):
        page += drawn_button(button, focused=button.action == GO_ON and view.phase is Phase.RIGHT)
    return page


def coming_layers(view: ReadingView, setting: ReadingSetting) -> Iterator[Layer]:
    """Yield the layers of the notes that are still in pencil, as they will be in ink."""
    if view.line is not None and view.phase is Phase.ASKED:
        placed = _placed(view.line, setting)
        for number in view.to_read:
            if number not in view.read:
                yield _inked(number, placed)


def _placed(line: Line, setting: ReadingSetting) -> _Placed:
    engraved = setting.engraved(line)
    card, edge = setting.card_box, max(2, setting.height // 200)
    # A note may stand a little beyond what verovio measured; the card's edge is the limit.
    box = Box(card.x + edge, card.y + edge, card.width - 2 * edge, card.height - 2 * edge)
    return _Placed(line, engraved, *setting.corner(engraved), box)


def _line_layers(view: ReadingView, placed: _Placed) -> Iterator[Layer]:
    engraved = placed.engraved
    pencilled = "".join(
        engraved.note_in(number, palette.PENCIL, palette.PENCIL_SHADE)
        for number in range(len(placed.line.notes))
    )
    yield placed.layer(engraved.frame + pencilled)
    for number in sorted(view.read):
        yield _inked(number, placed)
    if view.wrong is not None and view.phase is Phase.ASKED:
        yield from _wrong_layers(view.wrong, placed)
    for number, _hesitation in view.hesitations:
        yield _thought(number, placed)


def _inked(number: int, placed: _Placed) -> Layer:
    """Draw a note in ink, over its pencil."""
    markup = placed.engraved.note_in(number, palette.INK, palette.INK)
    return placed.layer(markup, placed.around(placed.head(number), 4, 9, 9))


def _wrong_layers(wrong: WrongKey, placed: _Placed) -> Iterator[Layer]:
    """Draw a wrong key where it lives: a hollow head beside the note that was expected."""
    note, answer = placed.line.notes[wrong.number], wrong.answer
    if abs(answer.steps) > _FARTHEST:
        return
    right, space = placed.head(wrong.number), placed.space
    # A neighbour stands beside its note, a further key below or above it.
    x = right.x + (2.6 * _HEAD * space if abs(answer.steps) < 2 else 0.0)
    head = Head(x, right.y - answer.steps * space / 2, right.half_width)
    if not placed.box.holds(head.x, head.y):
        return
    marks = [_ledger(note, answer.steps, line, right, x, space) for line in _ledgers(wrong, note)]
    marks.append(_sign(glyphs.NOTEHEAD_BLACK, head.x, head.y, space, palette.CARD))
    if answer.played.alteration:
        sign = ACCIDENTALS[answer.played.alteration]
        left = head.x - (_HEAD + 0.3 + glyph(sign).width / 2) * space
        if abs(answer.steps) < 2:
            left = head.x + (_HEAD + 0.3 + glyph(sign).width / 2) * space
        marks.append(_sign(sign, left, head.y, space, palette.ACCENT, 0.0))
    if abs(answer.steps) > 2:
        marks.append(_arrow(head, right, space))
    reach = abs(answer.steps) / 2 + 3
    yield Layer(placed.around(right, 4.5, reach, reach), "".join(marks))


def _ledgers(wrong: WrongKey, note: LineNote) -> list[int]:
    return list(ledger_lines(note.clef.position(note.pitch) + wrong.answer.steps))


def _ledger(note: LineNote, steps: int, line: int, right: Head, x: float, space: float) -> str:
    """Draw a ledger line of a wrong key; `line` is a stave position."""
    y = right.y - (line - note.clef.position(note.pitch)) * space / 2
    half, thick = (_HEAD + 0.4) * space, max(1.0, 0.16 * space)
    return (
        f'<rect x="{x - half:.1f}" y="{y - thick / 2:.1f}" width="{2 * half:.1f}" '
        f'height="{thick:.1f}" fill="{palette.ACCENT}"/>'
    )


def _sign(code: int, x: float, y: float, space: float, fill: str, edge: float = 0.16) -> str:
    """Draw a sign of the font about a point, within an outline so many spaces wide."""
    sign, scale = glyph(code), space / glyphs.UNITS_PER_SPACE
    left = x - sign.width * space / 2
    outline = (
        f' stroke="{palette.ACCENT}" stroke-width="{edge * space / scale:.1f}"' if edge else ""
    )
    return (
        f'<path transform="translate({left:.2f},{y:.2f}) scale({scale:.5f},{-scale:.5f})" '
        f'd="{sign.outline}" fill="{fill}"{outline}/>'
    )


def _arrow(start: Head, end: Head, space: float) -> str:
    """Draw the way from a wrong key to the note that was expected."""
    way = 1 if end.y > start.y else -1
    first, tip, head = start.y + way * 0.75 * space, end.y - way * 0.7 * space, 0.8 * space
    if abs(tip - first) < head:
        return ""
    neck = tip - way * head
    return (
        f'<path d="M{end.x:.1f} {first:.1f}V{neck:.1f}" stroke="{palette.ACCENT}" '
        f'stroke-width="{0.2 * space:.1f}"/>'
        f'<path d="M{end.x:.1f} {tip:.1f}l{-head * 0.55:.1f} {-way * head:.1f}'
        f'h{head * 1.1:.1f}Z" fill="{palette.ACCENT}"/>'
    )


def _thought(number: int, placed: _Placed) -> Layer:
    """Draw three dots below a note and its stave: here she thought."""
    head, note, space = placed.head(number), placed.line.notes[number], placed.space
    bottom_line = head.y + note.clef.position(note.pitch) * space / 2
    y = max(bottom_line + 2.3 * space, head.y + 1.6 * space)
    dots = "".join(
        f'<circle cx="{head.x + place * 0.85 * space:.1f}" cy="{y:.1f}" r="{0.28 * space:.1f}" '
        f'fill="{palette.ACCENT}"/>'
        for place in (-1, 0, 1)
    )
    return Layer(placed.around(Head(head.x, y, head.half_width), 2, 1, 1), dots)


def _strip_layers(view: ReadingView, setting: ReadingSetting) -> Iterator[Layer]:
    strip, line = setting.strip(view), view.line
    yield drawn_strip(strip)
    if line is None or view.phase is not Phase.ASKED:
        return
    if view.wrong is not None:
        for key in strip.shown([view.wrong.answer.played.midi]):
            yield held_key(strip, key, palette.ACCENT)
    elif view.read:
        for key in strip.shown(
            {line.notes[number].key for number in view.at if number in view.read}
        ):
            yield held_key(strip, key, palette.INK)


def _words(remark: Remark, setting: ReadingSetting) -> Iterator[Layer]:
    """Draw the words between the buttons."""
    middle, height = setting.width / 2, setting.height
    within = 0.62 * setting.width
    size = height * 0.058 * setting.enlarged
    if remark.headline:
        y = height * (0.735 if remark.detail else 0.755)
        yield text(remark.headline, middle, y, size, palette.INK, within)
    if remark.detail:
        yield text(remark.detail, middle, height * 0.79, 0.6 * size, palette.PENCIL, within)
