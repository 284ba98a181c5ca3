"""What pages are drawn on: a screen that is drawn anew only where something has changed."""

from __future__ import annotations

import io
import time
from collections.abc import Iterable
from functools import lru_cache

import pygame

from drills.engrave.layer import Box, Layer
from drills.engrave.theme import Theme
from drills.window.page_area import SMALLEST, page_area

LONGEST_SLICE = 0.01
"""Seconds after which the rasterising of a new page makes way for what has happened meanwhile."""
_SURFACES_KEPT = 1000


class Canvas:
    """A screen, and the page that stands on it."""

    def __init__(self, screen: pygame.Surface) -> None:
        """Begin with nothing drawn."""
        self._take(screen)
        self.unfinished = False
        """Whether a page has been rasterised in part and is not drawn yet."""
        self._laid: list[Layer] = []
        self._drawn: list[Layer] = []

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the page in pixels."""
        return self._area.width, self._area.height

    def on_page(self, at: tuple[float, float]) -> tuple[float, float]:
        """Return the point of the page that lies at a point of the window."""
        return at[0] - self._area.x, at[1] - self._area.y

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
        if not self._drawn:
            self._draw_margins(layers)
        for rect in changed:
            self._redraw(layers, rect)
        self._laid, self._drawn = laid, layers
        pygame.display.update([rect.move(self._area.x, self._area.y) for rect in changed])
        return True

    def forget(self) -> None:
        """Draw everything anew the next time."""
        self._laid, self._drawn = [], []

    def resized(self) -> None:
        """Take the screen that the desktop has made of the old one."""
        self._take(pygame.display.get_surface() or self.screen)
        self.forget()

    def _take(self, screen: pygame.Surface) -> None:
        """Take a screen, and lay pages out in the part of it that has a fitting shape."""
        self.screen = screen
        area = page_area(*screen.get_size())
        self.can_be_read = area is not None
        """Whether the screen is large enough to draw anything on it."""
        self._area = area or Box(0, 0, *SMALLEST)
        inside = pygame.Rect(self._area.x, self._area.y, *self.size)
        self._page = screen.subsurface(inside) if area is not None else screen

    def _draw_margins(self, layers: Iterable[Layer]) -> None:
        """Fill what lies around the page with the colour of its ground."""
        ground = next((layer.plain_colour for layer in layers if layer.plain_colour), None)
        if ground is not None and self.size != self.screen.get_size():
            self.screen.fill(ground)
            pygame.display.update([self.screen.get_rect()])

    def _redraw(self, layers: Iterable[Layer], rect: pygame.Rect) -> None:
        self._page.set_clip(rect)
        for layer in layers:
            if not rect.colliderect(_rect(layer)):
                continue
            if layer.plain_colour is not None:
                self._page.fill(layer.plain_colour, _rect(layer))
            else:
                self._page.blit(_surface(layer), (layer.box.x, layer.box.y))
        self._page.set_clip(None)


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
