"""A page that tells the teacher something, and asks at most one thing."""

from __future__ import annotations

from collections.abc import Sequence

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.words import broken
from drills.window.pages.buttons import Button, ButtonScene

MOST_LINES = 12


class MessagePage(ButtonScene):
    """Sentences, and buttons below; `chosen` is the action pressed, None if the page was left."""

    def __init__(
        self, title: str, sentences: Sequence[str], answers: Sequence[tuple[str, str]]
    ) -> None:
        """Tell `sentences`; `answers` are actions and their words, the first meant by Enter."""
        super().__init__(answers[0][0])
        self.chosen: str | None = None
        self._title = title
        self._sentences = sentences
        self._answers = answers

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the answers side by side."""
        tall, gap = round(height * 0.1), height // 30
        across = min(round(width * 0.4), (round(width * 0.9) // len(self._answers)) - gap)
        left = (width - len(self._answers) * (across + gap) + gap) // 2
        return [
            Button(
                action,
                words,
                Box(left + place * (across + gap), round(height * 0.84), across, tall),
            )
            for place, (action, words) in enumerate(self._answers)
        ]

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the title and the sentences, broken to the width."""
        middle, room, size = width / 2, 0.9 * width, height * 0.036
        page = [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(self._title, middle, height * 0.14, height * 0.062, palette.INK, room),
        ]
        lines = [line for told in self._sentences for line in (*_lines(told, size, room), "")]
        for row, line in enumerate(lines[: 2 * MOST_LINES]):
            y = height * 0.24 + row * min(height * 0.05, height * 0.58 / max(1, len(lines)))
            if line:
                page.append(text(line, middle, y, size, palette.INK, room))
        return page

    def act(self, action: str) -> None:
        """Leave with an answer."""
        self.chosen, self.over = action, True


def _lines(sentence: str, size: float, room: float) -> list[str]:
    return broken(sentence.split(), " ", size, room)
