"""A new page is rasterised in slices, so that what happens meanwhile is not kept waiting."""

import os
import time
from functools import lru_cache

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
import pygame

from drills.engrave.layer import Box, Layer
from drills.engrave.theme import THEMES
from drills.window import canvas


def test_however_short_the_time_a_page_is_done_after_as_many_slices_as_it_has_layers(monkeypatch):
    made = []
    monkeypatch.setattr(canvas, "_surface", lru_cache(made.append))
    layers = [Layer(Box(place, 0, 1, 1), "") for place in range(3)]
    assert [canvas._rasterised(layers, until=0.0) for _slice in layers] == [False, False, True]
    assert made == layers


def test_a_page_that_is_ready_in_time_is_done_at_once(monkeypatch):
    made = []
    monkeypatch.setattr(canvas, "_surface", lru_cache(made.append))
    layers = [Layer(Box(place, 0, 1, 1), "") for place in range(3)]
    assert canvas._rasterised(layers, until=time.monotonic() + 60)
    assert made == layers


def test_a_page_that_is_given_up_for_the_one_that_stands_is_not_waited_for(monkeypatch):
    monkeypatch.setattr(canvas, "_surface", lru_cache(lambda layer: None))
    monkeypatch.setattr(canvas, "LONGEST_SLICE", -1.0)
    monkeypatch.setattr(pygame.display, "update", lambda changed: None)
    page = canvas.Canvas(pygame.Surface((8, 8)))
    standing = [Layer(Box(0, 0, 4, 4), "", "#ffffff")]
    assert page.draw(standing, THEMES["paper"])
    assert not page.draw([Layer(Box(place, 0, 1, 1), "") for place in range(2)], THEMES["paper"])
    assert page.unfinished
    assert not page.draw(standing, THEMES["paper"])
    assert not page.unfinished
