"""The window's first page: who is playing, and what for."""

from __future__ import annotations

from collections.abc import Sequence

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.window.buttons import Button, ButtonScene

PRACTISE, WARM_UP = "practise", "warm-up"
MORE = "more"
ROWS = 6


class FirstPage(ButtonScene):
    """A line for each pupil: the nickname practises, the smaller button warms up."""

    def __init__(self, nicknames: Sequence[str], warm_up_only: bool = False) -> None:
        """Offer `nicknames`; with `warm_up_only` the nickname itself warms up."""
        super().__init__(f"{WARM_UP if warm_up_only else PRACTISE}/{nicknames[0]}")
        self.chosen: tuple[str, str] | None = None
        self._nicknames = nicknames
        self._warm_up_only = warm_up_only
        self._first = 0

    def buttons(self, width: int, height: int) -> list[Button]:
        """Give a line of buttons for each pupil shown, and one for the further pupils."""
        use = WARM_UP if self._warm_up_only else PRACTISE
        shown = self._nicknames[self._first : self._first + ROWS]
        buttons = []
        for row, nickname in enumerate(shown):
            name, side = _boxes(row, width, height)
            buttons.append(Button(f"{use}/{nickname}", nickname, name, size=0.5))
            if not self._warm_up_only:
                buttons.append(Button(f"{WARM_UP}/{nickname}", "warm-up", side, size=0.32))
        if len(self._nicknames) > ROWS:
            name, _ = _boxes(ROWS, width, height)
            buttons.append(Button(MORE, "more pupils", name, size=0.32))
        return buttons

    def page(self, width: int, height: int) -> list[Layer]:
        """Give the question."""
        return [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(
                "who is playing?",
                width / 2,
                height * 0.13,
                height * 0.072,
                palette.INK,
                0.95 * width,
            ),
        ]

    def act(self, action: str) -> None:
        """Take a pupil, or show the next ones."""
        if action == MORE:
            self._first = 0 if self._first + ROWS >= len(self._nicknames) else self._first + ROWS
            return
        use, _, nickname = action.partition("/")
        self.chosen, self.over = (nickname, use), True


def _boxes(row: int, width: int, height: int) -> tuple[Box, Box]:
    tall, gap = round(height * 0.095), height // 60
    top = round(height * 0.19) + row * (tall + gap)
    name = Box(round(width * 0.18), top, round(width * 0.42), tall)
    return name, Box(name.right + gap * 2, top, round(width * 0.82) - name.right - gap * 2, tall)
