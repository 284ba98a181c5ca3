"""Turning over what does not fit on one page: how many pages there are, forward and back."""

from __future__ import annotations

from dataclasses import dataclass

from drills.engrave.layer import Box
from drills.window.pages.buttons import Button
from landmarks.translation import _

MORE, EARLIER = "more", "earlier"


@dataclass(frozen=True)
class Turning:
    """So many things, so many of them on a page; `page` counts from 0."""

    count: int
    on_a_page: int
    page: int = 0

    @property
    def pages(self) -> int:
        """How many pages there are, one at least."""
        return max(1, -(-self.count // self.on_a_page))

    @property
    def first(self) -> int:
        """The place of the first thing on this page."""
        return self.page * self.on_a_page

    @property
    def shown(self) -> slice:
        """The places of the things on this page."""
        return slice(self.first, self.first + self.on_a_page)

    def turned(self, action: str) -> Turning:
        """Return the page before or after this one; behind the last comes the first.

        >>> Turning(30, 8).turned(MORE).page, Turning(30, 8).turned(EARLIER).page
        (1, 3)
        """
        step = 1 if action == MORE else -1
        return Turning(self.count, self.on_a_page, (self.page + step) % self.pages)

    def at(self, place: int) -> Turning:
        """Return the page on which the thing at a place stands."""
        return Turning(self.count, self.on_a_page, place // self.on_a_page)

    def buttons(self, box: Box, size: float) -> list[Button]:
        """Return the buttons that turn, side by side in a box; none for a single page."""
        if self.pages == 1:
            return []
        number = _("page {page} of {pages}").format(page=self.page + 1, pages=self.pages)
        back = Box(box.x, box.y, box.width // 4, box.height)
        left = back.right + box.height // 6
        on = Box(left, box.y, box.right - left, box.height)
        return [
            Button(EARLIER, "‹", back, size=size, about=_("the page before")),
            Button(MORE, f"{number} ›", on, size=size, about=_("the next page")),
        ]
