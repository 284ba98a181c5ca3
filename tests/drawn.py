"""Layers drawn beyond their boxes, to see what they leave where."""

from __future__ import annotations

import io
import os

import numpy as np

from drills.engrave.layer import Box, Layer, page_png

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
import pygame


def pixels(png: bytes) -> np.ndarray:
    """The pixels of a picture, as an array of width, height and red, green, blue, alpha."""
    surface = pygame.image.load(io.BytesIO(png), "picture.png")
    colours = pygame.surfarray.array3d(surface)
    alpha = pygame.surfarray.array_alpha(surface)
    return np.dstack([colours, alpha])


def beside_its_box(layer: Layer, around: int = 60) -> int:
    """How many pixels a layer draws outside its box, as far as `around` pixels from it."""
    box = layer.box
    moved = f'<g transform="translate({around - box.x},{around - box.y})">{layer.markup}</g>'
    width, height = box.width + 2 * around, box.height + 2 * around
    png = page_png(width, height, [Layer(Box(0, 0, width, height), moved)])
    alpha = pixels(png)[:, :, 3]
    assert alpha.any(), "nothing is drawn"
    alpha[around : around + box.width, around : around + box.height] = 0
    return int(np.count_nonzero(alpha))
