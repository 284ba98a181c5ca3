"""A picture as layers of SVG, so that what stands still is drawn only once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from drills.engrave.letters import drawable, rastered
from drills.engrave.words import WIDEST_LETTER, fit_words
from drills.text.printable import printable

_WRITTEN_OUT = str.maketrans({"𝄫": "♭♭", "𝄪": "×"})
"""Signs that the font has not."""


@dataclass(frozen=True)
class Box:
    """A rectangle in whole pixels; x and y are its upper left corner."""

    x: int
    y: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """The x just beyond the box."""
        return self.x + self.width

    @property
    def bottom(self) -> int:
        """The y just below the box."""
        return self.y + self.height

    def holds(self, x: float, y: float) -> bool:
        """Return whether a point lies in the box."""
        return self.x <= x < self.right and self.y <= y < self.bottom


@dataclass(frozen=True)
class Layer:
    """SVG markup in the page's pixels, and the box outside which it draws nothing."""

    box: Box
    markup: str
    plain_colour: str | None = None
    """The colour of a layer that is nothing but a filled box."""
    words: str = ""
    """What a layer of words says, to be read out."""

    def png(self) -> bytes:
        """Return the layer as a PNG of its box's size, transparent where it draws nothing."""
        return _png(self.box, self.markup)


def page_png(width: int, height: int, layers: Iterable[Layer]) -> bytes:
    """Return a whole page of layers, the first lowest, as one PNG."""
    return _png(Box(0, 0, width, height), "".join(layer.markup for layer in layers))


def see_through(layer: Layer, opacity: float) -> Layer:
    """Return a layer through which what lies below it shows; `opacity` from 0 to 1."""
    return Layer(layer.box, f'<g opacity="{opacity:.2f}">{layer.markup}</g>')


def text(
    words: str,
    centre: float,
    baseline: float,
    size: float,
    colour: str,
    within: float | None = None,
) -> Layer:
    """Return a centred line of words; `size` is the font's em in pixels, less to fit `within`."""
    said = printable(words)
    words = drawable(said.translate(_WRITTEN_OUT))
    if within is not None:
        words, size = fit_words(words, size, within)
    half = WIDEST_LETTER / 2 * size * len(words) + size
    box = Box(
        int(centre - half), int(baseline - 1.1 * size), int(2 * half) + 1, int(1.5 * size) + 1
    )
    markup = (
        f'<text x="{centre:.1f}" y="{baseline:.1f}" font-family="Andika" font-size="{size:.1f}" '
        f'text-anchor="middle" fill="{colour}">{escape(words)}</text>'
    )
    return Layer(box, markup, words=said)


def beginning(
    words: str, left: float, baseline: float, size: float, colour: str, within: float
) -> Layer:
    """Return a line of words that begins at `left`; otherwise as `text`."""
    said = printable(words)
    words, size = fit_words(drawable(said.translate(_WRITTEN_OUT)), size, within)
    box = Box(int(left), int(baseline - 1.1 * size), int(within) + 1, int(1.5 * size) + 1)
    markup = (
        f'<text x="{left:.1f}" y="{baseline:.1f}" font-family="Andika" font-size="{size:.1f}" '
        f'fill="{colour}">{escape(words)}</text>'
    )
    return Layer(box, markup, words=said)


def rectangle(box: Box, colour: str) -> Layer:
    """Return a plain filled rectangle."""
    markup = (
        f'<rect x="{box.x}" y="{box.y}" width="{box.width}" height="{box.height}" fill="{colour}"/>'
    )
    return Layer(box, markup, colour)


def _png(box: Box, markup: str) -> bytes:
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{box.width}" height="{box.height}" '
        f'viewBox="{box.x} {box.y} {box.width} {box.height}">{markup}</svg>'
    )
    return rastered(svg)
