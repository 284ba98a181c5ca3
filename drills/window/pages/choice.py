"""The page that asks which of several pianos is played."""

from __future__ import annotations

from dataclasses import dataclass

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.stave_card import empty_card


@dataclass
class PianoChoice:
    """Shown until a key is pressed on one of the pianos, or its name is touched."""

    names: tuple[str, ...]
    width: int
    height: int
    in_focus: str = ""

    def piano_at(self, x: float, y: float) -> str | None:
        """Return the piano whose name is drawn at a point, if there is one."""
        boxes = (self._box(place) for place in range(len(self.names)))
        return next((n for n, box in zip(self.names, boxes, strict=True) if box.holds(x, y)), None)

    def layers(self, width: int, height: int) -> list[Layer]:
        """Return the layers of the page in a window of this size."""
        self.width, self.height = width, height
        middle, size = width / 2, height * 0.068
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        page.append(
            text("play a key on your piano", middle, height * 0.2, size, palette.INK, 0.95 * width)
        )
        for place, name in enumerate(self.names):
            box = self._box(place)
            page += empty_card(box)
            baseline = box.y + box.height * 0.64
            page.append(text(name, middle, baseline, size * 0.6, palette.INK, 0.9 * box.width))
        return page

    def _box(self, place: int) -> Box:
        height = self.height // 9
        top = self.height // 3 + place * (height + self.height // 40)
        return Box(self.width // 6, top, self.width * 2 // 3, height)
