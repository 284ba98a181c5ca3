"""The pages of spotting, as layers: a line of music with rings around what was found.

Pure: a view and a size in, layers out.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import ClassVar

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.line import Head
from drills.engrave.stave_card import empty_card
from drills.learning.response import State
from drills.sessions.spotting.question import NoteQuestion
from drills.sessions.spotting.view import SpottingView
from drills.sessions.view import Phase
from drills.window.pages.line_placement import LinePlacement
from drills.window.pages.long_stave import notes_on_stave
from drills.window.pages.spotting_words import question_words, spotting_remark
from landmarks.line import Line
from landmarks.translation import ngettext

_REACH = 2.0
"""How far from a head a finger may land, in stave spaces."""


@dataclass(frozen=True)
class SpottingSetting(LinePlacement):
    """The size of the window, in pixels, and where things stand in it."""

    width: int
    height: int
    large: bool = False
    """Whether notes and words take room from the margins."""

    share_of_card: ClassVar = 0.86

    @property
    def card_box(self) -> Box:
        """The box of the card that the line stands on, below the question."""
        top = round(self.height * 0.16)
        bottom = round(self.height * 0.8)
        return Box(self.margin, top, self.width - 2 * self.margin, bottom - top)

    def note_at(self, line: Line, x: float, y: float) -> int | None:
        """Return the number of the note that a finger at a point means, if there is one."""
        engraved = self.engraved(line)
        left, top = self.corner(engraved)
        return engraved.head_at(x - left, y - top, _REACH * engraved.space)


def spotting_page(view: SpottingView, setting: SpottingSetting) -> list[Layer]:
    """Return the layers of the page on which a pupil looks for notes."""
    width, height = setting.width, setting.height
    page = [rectangle(Box(0, 0, width, height), palette.PAPER), *empty_card(setting.card_box)]
    size = _fitting(question_words(view), width, height * 0.085 * setting.enlarged)
    page.append(text(question_words(view), width / 2, height * 0.115, size, palette.INK))
    if view.line is not None:
        page += _line_layers(view, view.line, setting)
    page += _counters(view, setting)
    remark = spotting_remark(view)
    if remark.headline:
        size = _fitting(remark.headline, width, height * 0.058 * setting.enlarged)
        page.append(text(remark.headline, width / 2, height * 0.925, size, palette.INK))
    if remark.detail:
        size = _fitting(remark.detail, width, height * 0.036 * setting.enlarged)
        page.append(text(remark.detail, width / 2, height * 0.98, size, palette.PENCIL))
    return page


def spotting_closing_page(view: SpottingView, setting: SpottingSetting) -> list[Layer]:
    """Return the layers of the last page: the notes that were found, in ink."""
    width, height = setting.width, setting.height
    margin, middle = setting.margin, width / 2
    box = Box(margin, margin, width - 2 * margin, round(height * 0.74))
    notes = [question.card for question, _count in view.tally if isinstance(question, NoteQuestion)]
    page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
    page += notes_on_stave(box, [(card, State.INK) for card in notes])
    total = sum(count for _question, count in view.tally)
    found = ngettext("{count} note found today", "{count} notes found today", total)
    size = height * 0.07 * setting.enlarged
    page.append(text(found, middle, height * 0.87, size, palette.INK))
    names = ", ".join(f"{count} × {question.name}" for question, count in view.tally)
    size = _fitting(names, width, height * 0.042 * setting.enlarged)
    page.append(text(names, middle, height * 0.95, size, palette.PENCIL))
    return page


def _line_layers(view: SpottingView, line: Line, setting: SpottingSetting) -> list[Layer]:
    engraved = setting.engraved(line)
    left, top = setting.corner(engraved)
    card, edge = setting.card_box, max(2, setting.height // 200)
    # A note may stand a little beyond what verovio measured; the card's edge is the limit.
    box = Box(card.x + edge, card.y + edge, card.width - 2 * edge, card.height - 2 * edge)
    layers = [Layer(box, f'<g transform="translate({left},{top})">{engraved.markup}</g>')]
    heads = [Head(left + h.x, top + h.y, h.half_width) for h in engraved.heads]
    layers += [_ring(heads[number], engraved.space) for number in sorted(view.found)]
    if view.phase is Phase.ASKED and view.touched is not None:
        layers.append(_other(heads[view.touched], engraved.space))
    if view.phase is Phase.ASKED and view.pointed is not None:
        layers.append(_pointer(heads[view.pointed], engraved.space))
    return layers


def _ring(head: Head, space: float) -> Layer:
    """Draw a ring around a note as a pencil does: once around, and a little past its start."""
    across, upright = head.half_width + 0.72 * space, 1.15 * space
    points = []
    for degrees in range(-125, 265, 10):
        wider = 0.92 + 0.2 * (degrees + 125) / 390
        angle = radians(degrees)
        points.append(f"{wider * across * cos(angle):.1f} {wider * upright * sin(angle):.1f}")
    markup = (
        f'<path transform="translate({head.x:.1f},{head.y:.1f}) rotate(-12)" '
        f'd="M{"L".join(points)}" fill="none" stroke="{palette.INK}" '
        f'stroke-width="{0.2 * space:.1f}" stroke-linecap="round" stroke-linejoin="round"/>'
    )
    return Layer(_around(head, across + upright, across + upright), markup)


def _other(head: Head, space: float) -> Layer:
    """Mark a wrong note: a hollow head in the colour of what was played, on a bar below."""
    half = head.half_width + 0.35 * space
    y = head.y + 1.05 * space
    markup = (
        f'<ellipse cx="{head.x:.1f}" cy="{head.y:.1f}" rx="{half:.1f}" ry="{0.78 * space:.1f}" '
        f'fill="none" stroke="{palette.ACCENT}" stroke-width="{0.2 * space:.1f}" '
        f'stroke-dasharray="{0.42 * space:.1f} {0.3 * space:.1f}"/>'
        f'<path d="M{head.x - half:.1f} {y:.1f}h{2 * half:.1f}" stroke="{palette.ACCENT}" '
        f'stroke-width="{0.26 * space:.1f}" stroke-linecap="round"/>'
    )
    return Layer(_around(head, half + space, 2 * space), markup)


def _pointer(head: Head, space: float) -> Layer:
    """Point at a note from above."""
    tip, top, half = head.y - 0.95 * space, head.y - 2.9 * space, 0.62 * space
    markup = (
        f'<path d="M{head.x:.1f} {tip:.1f}L{head.x - half:.1f} {tip - 1.1 * space:.1f}'
        f'H{head.x + half:.1f}Z" fill="{palette.ACCENT}"/>'
        f'<path d="M{head.x:.1f} {tip - space:.1f}V{top:.1f}" stroke="{palette.ACCENT}" '
        f'stroke-width="{0.34 * space:.1f}" stroke-linecap="round"/>'
    )
    return Layer(_around(head, space, 3.2 * space), markup)


def _counters(view: SpottingView, setting: SpottingSetting) -> list[Layer]:
    """Draw a note head for each note to be found: hollow, and filled when it is found."""
    radius = setting.height * 0.013
    room, y = 3.4 * radius, setting.height * 0.838
    first = setting.width / 2 - room * (len(view.wanted) - 1) / 2
    marks = []
    for place in range(len(view.wanted)):
        fill = palette.INK if place < len(view.found) else palette.CARD
        marks.append(
            f'<ellipse cx="{first + place * room:.1f}" cy="{y:.1f}" rx="{radius * 1.25:.1f}" '
            f'ry="{radius * 0.85:.1f}" transform="rotate(-20 {first + place * room:.1f} {y:.1f})" '
            f'fill="{fill}" stroke="{palette.INK}" stroke-width="{radius * 0.25:.1f}"/>'
        )
    width = room * len(view.wanted) + 2 * radius
    left, top = first - room / 2 - radius, y - 2 * radius
    box = Box(int(left), int(top), int(width) + 1, int(4 * radius) + 1)
    return [Layer(box, "".join(marks))] if marks else []


def _around(head: Head, across: float, upright: float) -> Box:
    return Box(
        int(head.x - across) - 1, int(head.y - upright) - 1,
        int(2 * across) + 3, int(2 * upright) + 3,
    )  # fmt: skip


def _fitting(words: str, width: int, size: float) -> float:
    """Return the size at which words fit between the window's margins."""
    return min(size, 1.7 * width / max(1, len(words)))
