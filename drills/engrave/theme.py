"""Looks of a page: what each colour of the palette becomes.

Layers are laid out in the palette's own colours, so that whatever draws needs to know no look.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from drills.engrave import palette
from drills.engrave.layer import Layer

_COLOUR = re.compile(r'(?<=")#[0-9a-f]{6}(?=")')
"""As the value of an attribute: in words, a quotation mark is written out."""


@dataclass(frozen=True)
class Theme:
    """One look; colours that it does not name stay as they are."""

    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def of(self, colour: str) -> str:
        """Return what a colour of the palette is in this look."""
        return self.colours.get(colour, colour)

    def layers(self, layers: list[Layer]) -> list[Layer]:
        """Return a page in this look."""
        return [self._layer(layer) for layer in layers] if self.colours else layers

    def _layer(self, layer: Layer) -> Layer:
        markup = _COLOUR.sub(lambda found: self.of(found[0]), layer.markup)
        plain = None if layer.plain_colour is None else self.of(layer.plain_colour)
        return replace(layer, markup=markup, plain_colour=plain)


THEMES: Mapping[str, Theme] = MappingProxyType(
    {
        "paper": Theme(),
        "high contrast": Theme(
            MappingProxyType(
                {
                    palette.PAPER: "#ffffff",
                    palette.CARD: "#ffffff",
                    palette.INK: "#000000",
                    palette.PENCIL: "#4d4d4d",
                    palette.PENCIL_SHADE: "#d0d0d0",
                    palette.FADED: "#3b5bb5",
                    palette.ACCENT: "#9a2f00",
                    palette.KEY_EDGE: "#000000",
                }
            )
        ),
    }
)
"""By their names in a pupil's settings. In high contrast, words stand at least 7:1 against their
ground (WCAG 2.2, success criterion 1.4.6), marks at least 4.5:1.
"""
