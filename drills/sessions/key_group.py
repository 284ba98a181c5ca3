"""A key group: the keys that go down together."""

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


def split_brushed(group: Sequence[Press], right: Pitch | None) -> tuple[list[Press], list[Press]]:
    """Return the neighbours brushed along with the right key of a group, and its other keys."""
    if right is None or len(group) != 2 or all(press.key != right.midi for press in group):
        return [], list(group)
    brushed = [press for press in group if brushes(right, press.key)]
    return brushed, [press for press in group if press not in brushed]
