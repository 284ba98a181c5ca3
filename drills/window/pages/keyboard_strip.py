"""The keyboard strip: the part of the piano that the cards need, drawn and touched."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drills.engrave import palette
from drills.engrave.layer import Box, Layer
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY, is_black

BLACK_LENGTH = 0.63
BLACK_WIDTH = 0.58
"""Of a white key's length and width: common practice, no source."""
MARGIN_KEYS = 3


@dataclass(frozen=True)
class Strip:
    """The keys from `lowest` to `highest` (key numbers of white keys) in a box on the page."""

    box: Box
    lowest: int
    highest: int

    @property
    def white_keys(self) -> tuple[int, ...]:
        """The white keys from left to right."""
        return tuple(k for k in range(self.lowest, self.highest + 1) if not is_black(k))

    @property
    def white_width(self) -> float:
        """The width of a white key in pixels."""
        return self.box.width / len(self.white_keys)

    def key_box(self, key: int) -> Box:
        """Return the box of a key, in pixels."""
        whites_below = sum(not is_black(k) for k in range(self.lowest, key))
        left = self.box.x + whites_below * self.white_width
        if not is_black(key):
            right = self.box.x + (whites_below + 1) * self.white_width
            return Box(round(left), self.box.y, round(right) - round(left), self.box.height)
        width = BLACK_WIDTH * self.white_width
        return Box(
            round(left - width / 2), self.box.y, round(width),
            round(BLACK_LENGTH * self.box.height),
        )  # fmt: skip

    def shown(self, keys: Iterable[int]) -> list[int]:
        """Return those of some keys that the strip has, from left to right."""
        return sorted(key for key in keys if self.lowest <= key <= self.highest)

    def key_at(self, x: float, y: float) -> int | None:
        """Return the key at a point of the page, or None beside the strip."""
        if not self.box.holds(x, y):
            return None
        keys = range(self.lowest, self.highest + 1)
        blacks_first = sorted(keys, key=is_black, reverse=True)
        return next((key for key in blacks_first if self.key_box(key).holds(x, y)), None)


def strip_of(box: Box, keys: Iterable[int]) -> Strip:
    """Lay out whole octaves, from C to C, that hold the keys and a little on either side."""
    wanted = sorted(keys)
    lowest = (wanted[0] - MARGIN_KEYS) // 12 * 12
    highest = -(-(wanted[-1] + MARGIN_KEYS) // 12) * 12
    return Strip(box, max(LOWEST_PIANO_KEY, lowest), min(HIGHEST_PIANO_KEY, highest))


def whole_piano(box: Box) -> Strip:
    """Lay out all 88 keys."""
    return Strip(box, LOWEST_PIANO_KEY, HIGHEST_PIANO_KEY)


def drawn_strip(strip: Strip) -> Layer:
    """Draw the keys at rest."""
    keys = range(strip.lowest, strip.highest + 1)
    whites = "".join(_key(strip, key, palette.CARD) for key in keys if not is_black(key))
    blacks = "".join(_key(strip, key, palette.INK) for key in keys if is_black(key))
    return Layer(strip.box, whites + blacks)


def held_key(strip: Strip, key: int, colour: str) -> Layer:
    """Draw a key that is down: darker, with a dot."""
    box = strip.key_box(key)
    if is_black(key):
        return Layer(box, _key(strip, key, palette.PENCIL) + _dot(box, palette.CARD, 0.82))
    return Layer(box, _key(strip, key, palette.PENCIL_SHADE) + _dot(box, colour, 0.84))


def lit_key(strip: Strip, key: int) -> Layer:
    """Draw the key that is to be pressed: a ring and a thick edge."""
    box = strip.key_box(key)
    edge = max(2, round(strip.white_width * 0.12))
    radius = min(strip.white_width * 0.24, box.width / 2 - edge)
    middle, y = box.x + box.width / 2, box.y + box.height * 0.8
    ground = palette.INK if is_black(key) else palette.CARD
    markup = (
        f'<path d="{_outline(strip, key, edge)}" fill="{ground}" stroke="{palette.ACCENT}" '
        f'stroke-width="{edge}"/>'
        f'<circle cx="{middle:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="none" '
        f'stroke="{palette.ACCENT}" stroke-width="{edge}"/>'
    )
    return Layer(box, markup)


def _key(strip: Strip, key: int, colour: str) -> str:
    edge = max(1, round(strip.white_width / 60))
    return (
        f'<path d="{_outline(strip, key, edge)}" fill="{colour}" '
        f'stroke="{palette.KEY_EDGE}" stroke-width="{edge}"/>'
    )


def _outline(strip: Strip, key: int, edge: int) -> str:
    """Return the outline of what can be seen of a key, so far inside that its edge stays there."""
    box, inset = strip.key_box(key), edge / 2
    rounding = max(round(strip.white_width * 0.1), edge)
    left, right = box.x + inset, box.right - inset
    top, bottom = box.y + inset, box.bottom - inset
    neck_left, neck_right, left_shoulder, right_shoulder = left, right, top, top
    if _hides(strip, key, key - 1):
        black = strip.key_box(key - 1)
        neck_left, left_shoulder = black.right + inset, black.bottom + inset
    if _hides(strip, key, key + 1):
        black = strip.key_box(key + 1)
        neck_right, right_shoulder = black.x - inset, black.bottom + inset
    return (
        f"M{neck_left} {top}H{neck_right}V{right_shoulder}H{right}V{bottom - rounding}"
        f"q0 {rounding} -{rounding} {rounding}H{left + rounding}"
        f"q-{rounding} 0 -{rounding} -{rounding}V{left_shoulder}H{neck_left}Z"
    )


def _hides(strip: Strip, key: int, beside: int) -> bool:
    """Return whether a black key beside a white one hides a part of it."""
    return not is_black(key) and is_black(beside) and strip.lowest <= beside <= strip.highest


def _dot(box: Box, colour: str, height: float) -> str:
    radius = min(box.width * 0.26, box.height * 0.1)
    return (
        f'<circle cx="{box.x + box.width / 2:.1f}" cy="{box.y + box.height * height:.1f}" '
        f'r="{radius:.1f}" fill="{colour}"/>'
    )
