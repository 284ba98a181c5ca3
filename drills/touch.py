"""One touch of the keyboard: the keys that go down together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drills.card import Card
from landmarks.answer import brushes


@dataclass(frozen=True)
class Press:
    """A key that went down at `t` (milliseconds since the session's start)."""

    key: int
    t: float


def parted(touch: Sequence[Press], card: Card) -> tuple[list[Press], list[Press]]:
    """Part a touch into the neighbours brushed along with the right key, and the rest."""
    found = len(touch) == 2 and any(press.key == card.key for press in touch)
    brushed = [press for press in touch if found and brushes(card.target, press.key)]
    return brushed, [press for press in touch if press not in brushed]
