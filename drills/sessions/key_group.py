"""One touch of the keyboard: the keys that go down together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from landmarks.answer import brushes
from landmarks.pitch import Pitch


@dataclass(frozen=True)
class Press:
    """A key that went down at `t` (milliseconds since the session's start)."""

    key: int
    t: float


def parted(touch: Sequence[Press], right: Pitch | None) -> tuple[list[Press], list[Press]]:
    """Part a touch into the neighbours brushed along with the right key, and the rest."""
    if right is None or len(touch) != 2 or all(press.key != right.midi for press in touch):
        return [], list(touch)
    brushed = [press for press in touch if brushes(right, press.key)]
    return brushed, [press for press in touch if press not in brushed]
