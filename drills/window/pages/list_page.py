"""A page on which one of several things is chosen, two columns of them at a time."""

from __future__ import annotations

from collections.abc import Sequence

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.turning import EARLIER, MORE, Turning
from landmarks.translation import _

ROWS = 8
BACK = "back"
ENTRY = "entry/"
"""Before the place of an entry, counted from 0, in the action of its button."""


class ListPage(ButtonScene):
    """Offers entries; `taken` is the place of the one that was pressed, None if it was left."""

    def __init__(self, title: str, detail: str, entries: Sequence[str]) -> None:
        """Offer `entries` by their words, below a title and a small line."""
        super().__init__(BACK)
        self.taken: int | None = None
        self._title = title
        self.offer(detail, entries)

    def offer(self, detail: str, entries: Sequence[str]) -> None:
        """Offer other entries from now on."""
        self._detail = detail
        self._entries = entries
        self._turning = Turning(len(entries), 2 * ROWS)
        self.focus = f"{ENTRY}0" if entries else self.foot()[0][0]

    def foot(self) -> list[tuple[str, str]]:
        """Return the actions below the entries, and their words."""
        return [(BACK, _("back"))]

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the entries in two columns, and the ways out."""
        turning = self._turning
        buttons = [
            Button(f"{ENTRY}{turning.first + place}", words, _cell(place, width, height), size=0.36)
            for place, words in enumerate(self._entries[turning.shown])
        ]
        foot = self.foot()
        places = len(foot) + (turning.pages > 1)
        buttons += turning.buttons(_foot(places - 1, places, width, height), 0.36)
        return buttons + [
            Button(action, words, _foot(place, places, width, height), size=0.36)
            for place, (action, words) in enumerate(foot)
        ]

    def page(self, width: int, height: int) -> list[Layer]:
        """Return what is chosen, and from what."""
        middle, room = width / 2, 0.94 * width
        page = [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(self._title, middle, height * 0.09, height * 0.056, palette.INK, room),
            text(self._detail, middle, height * 0.145, height * 0.032, palette.PENCIL, room),
        ]
        if not self._entries:
            empty = _("nothing here that could be taken")
            page.append(text(empty, middle, height * 0.4, height * 0.042, palette.PENCIL, room))
        return page

    def act(self, action: str) -> None:
        """Take an entry, show others, or leave."""
        if action in (MORE, EARLIER):
            self._turning = self._turning.turned(action)
        elif action == BACK:
            self.over = True
        else:
            self.take_entry(int(action.removeprefix(ENTRY)))

    def take_entry(self, place: int) -> None:
        """Take an entry."""
        self.taken, self.over = place, True


def _cell(place: int, width: int, height: int) -> Box:
    margin, tall, gap = height // 40, round(height * 0.068), height // 75
    across = (width - 3 * margin) // 2
    column, row = divmod(place, ROWS)
    left = margin + column * (across + margin)
    return Box(left, round(height * 0.19) + row * (tall + gap), across, tall)


def _foot(place: int, count: int, width: int, height: int) -> Box:
    margin, tall = height // 40, round(height * 0.08)
    across = (width - margin) // count - margin
    return Box(margin + place * (across + margin), height - margin - tall, across, tall)
