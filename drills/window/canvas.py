"""What pages are drawn on: a screen that is drawn anew only where something has changed."""

from __future__ import annotations

import io
import time
from collections.abc import Iterable
from functools import lru_cache

import pygame

from drills.engrave.layer import Layer
from drills.engrave.theme import Theme

LONGEST_SLICE = 0.01
"""Seconds after which the rasterising of a new page makes way for what has happened meanwhile."""
_SURFACES_KEPT = 1000


class Canvas:
    """A screen, and the page that stands on it."""

    def __init__(self, screen: pygame.Surface) -> None:
        """Begin with nothing drawn."""
        self.screen = screen
        self.unfinished = False
        """Whether a page has been rasterised in part and is not drawn yet."""
        self._laid: list[Layer] = []
        self._drawn: list[Layer] = []

    def draw(self, laid: list[Layer], theme: Theme) -> bool:
        """Draw in a look what differs from the page that stands; tell whether anything is new.

        If rasterising it takes too long it is left `unfinished`, to go on with the next time.
        """
        self.unfinished = False
        if laid is self._laid:
            return False
        layers = theme.layers(laid)
        self.unfinished = not _rasterised(layers, time.monotonic() + LONGEST_SLICE)
        if self.unfinished:
            return False
        changed = [_rect(layer) for layer in set(layers) ^ set(self._drawn)]
        for rect in changed:
            self._redraw(layers, rect)
        self._laid, self._drawn = laid, layers
        pygame.display.update(changed)
        return True

    def forget(self) -> None:
        """Draw everything anew the next time."""
        self._laid, self._drawn = [], []

    def resized(self) -> None:
        """Take the screen that the desktop has made of the old one."""
        self.screen = pygame.display.get_surface() or self.screen
        self.forget()

    def _redraw(self, layers: Iterable[Layer], rect: pygame.Rect) -> None:
        self.screen.set_clip(rect)
        for layer in layers:
            if not rect.colliderect(_rect(layer)):
                continue
            if layer.plain_colour is not None:
                self.screen.fill(layer.plain_colour, _rect(layer))
            else:
                self.screen.blit(_surface(layer), (layer.box.x, layer.box.y))
        self.screen.set_clip(None)


def rasterise(layer: Layer) -> None:
    """Turn a layer into pixels, which are kept until it is drawn."""
    if layer.plain_colour is None:
        _surface(layer)


@lru_cache(_SURFACES_KEPT)
def _surface(layer: Layer) -> pygame.Surface:
    return pygame.image.load(io.BytesIO(layer.png()), "layer.png").convert_alpha()


def _rasterised(layers: Iterable[Layer], until: float) -> bool:
    """Rasterise layers until a time, at least one of them; tell whether all of them are done."""
    before = _surface.cache_info().misses
    for layer in layers:
        if time.monotonic() > until and _surface.cache_info().misses > before:
            return False
        rasterise(layer)
    return True


def _rect(layer: Layer) -> pygame.Rect:
    return pygame.Rect(layer.box.x, layer.box.y, layer.box.width, layer.box.height)
