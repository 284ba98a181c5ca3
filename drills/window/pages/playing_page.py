"""The page that goes with the teacher's playing, as layers: her line, and the one after it.

Pure: a view and a size in, layers out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.line import EngravedLine, engraved_line
from drills.engrave.stave_card import empty_card
from drills.sessions.reading.playing import PlayingView
from drills.window.pages.buttons import Button, drawn_button
from landmarks.line import Line, LineNote
from landmarks.translation import _

FIND, LEAVE = "find", "leave"
_LARGEST_SPACE = 0.042
"""Of the window's height: larger notes would be further apart than an eye takes in."""


@dataclass(frozen=True)
class PlayingSetting:
    """The size of the window, in pixels, and where things stand in it."""

    width: int
    height: int

    @property
    def margin(self) -> int:
        """The room around everything."""
        return self.height // 40

    def box(self, place: int) -> Box:
        """Return the box of the line that is played (0), or of the one after it (1)."""
        tall = round(self.height * 0.43)
        top = self.margin + place * (tall + self.margin // 2)
        return Box(self.margin, top, self.width - 2 * self.margin, tall)

    @property
    def buttons(self) -> list[Button]:
        """Return what may be touched below the music."""
        across, tall = round(self.width * 0.3), round(self.height * 0.072)
        y = self.height - self.margin // 2 - tall
        return [
            Button(
                FIND, _("find something in this line"), self._foot(0, across, tall, y), size=0.4
            ),
            Button(LEAVE, _("done"), self._foot(1, across // 2, tall, y), size=0.4),
        ]

    def _foot(self, right: int, across: int, tall: int, y: int) -> Box:
        x = self.width - self.margin - across if right else self.margin
        return Box(x, y, across, tall)

    def engraved(self, line: Line) -> EngravedLine:
        """Engrave a line for its card."""
        box = self.box(0)
        room = round(box.width * 0.95), round(box.height * 0.86)
        return engraved_line(line, *room, self.height * _LARGEST_SPACE)


def playing_page(view: PlayingView, setting: PlayingSetting) -> list[Layer]:
    """Return the layers of the page that goes with the playing."""
    page = [rectangle(Box(0, 0, setting.width, setting.height), palette.PAPER)]
    for place, line in enumerate((view.line, view.following)):
        if line is not None:
            page += empty_card(setting.box(place))
            page += _line_layers(line, place, view.at if place == 0 else (), setting)
    for button in setting.buttons:
        page += drawn_button(button, focused=False)
    size = setting.height * 0.036
    middle, y = setting.width * 0.58, setting.height - setting.margin - size * 0.6
    source = view.line.source if view.line else ""
    return [*page, text(source, middle, y, size, palette.PENCIL, setting.width * 0.4)]


def _line_layers(
    line: Line, place: int, at: tuple[int, ...], setting: PlayingSetting
) -> Iterator[Layer]:
    engraved, box = setting.engraved(line), setting.box(place)
    edge = max(2, setting.height // 200)
    inside = Box(box.x + edge, box.y + edge, box.width - 2 * edge, box.height - 2 * edge)
    left = round(box.x + (box.width - engraved.width) / 2)
    top = round(box.y + (box.height - engraved.height) / 2)
    if at:
        yield _band([line.notes[number] for number in at], at, engraved, (left, top), inside)
    yield Layer(inside, f'<g transform="translate({left},{top})">{engraved.markup}</g>')


def _band(
    notes: list[LineNote],
    numbers: tuple[int, ...],
    engraved: EngravedLine,
    corner: tuple[int, int],
    inside: Box,
) -> Layer:
    """Draw where she is: a band behind the notes of the moment, from stave to stave."""
    space, (left, top) = engraved.space, corner
    heads = [engraved.heads[number] for number in numbers]
    places = [note.clef.position(note.pitch) for note in notes]
    upper = [h.y - max(0, 8 - p) * space / 2 for h, p in zip(heads, places, strict=True)]
    lower = [h.y + max(0, p) * space / 2 for h, p in zip(heads, places, strict=True)]
    first, last = min(upper) - 1.5 * space, max(lower) + 1.5 * space
    middle = left + sum(head.x for head in heads) / len(heads)
    wide = 2.6 * space
    markup = (
        f'<rect x="{middle - wide / 2:.1f}" y="{top + first:.1f}" width="{wide:.1f}" '
        f'height="{last - first:.1f}" rx="{space:.1f}" fill="{palette.PENCIL_SHADE}"/>'
    )
    y = max(inside.y, int(top + first))
    bottom = min(inside.bottom, int(top + last) + 1)
    return Layer(Box(int(middle - wide), y, int(2 * wide), bottom - y), markup)
