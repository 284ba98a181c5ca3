"""What a page has for the ear: its words, and the button that Enter would press."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drills.engrave.layer import Layer


@dataclass(frozen=True)
class ReadOut:
    """The words of a page, from the first drawn to the last, and of the button in focus."""

    words: tuple[str, ...] = ()
    focus: str = ""

    def since(self, before: ReadOut | None) -> str:
        """Return what is new, to be read out; without `before`, the page from its title on."""
        if before is None:
            parts = [*self.words[:1], self.focus, *self.words[1:]]
        else:
            focus = self.focus if self.focus != before.focus else ""
            parts = [focus, *(words for words in self.words if words not in before.words)]
        return ", ".join(part for part in parts if part)


def read_out(layers: Iterable[Layer], focus: str) -> ReadOut:
    """Return what a page of layers has to say."""
    return ReadOut(tuple(layer.words for layer in layers if layer.words), focus)
