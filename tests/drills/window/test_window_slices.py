"""A new page is rasterised in slices, so that what happens meanwhile is not kept waiting."""

import time
from functools import lru_cache

from drills.engrave.layer import Box, Layer
from drills.window import window


def test_however_short_the_time_a_page_is_done_after_as_many_slices_as_it_has_layers(monkeypatch):
    made = []
    monkeypatch.setattr(window, "_surface", lru_cache(made.append))
    layers = [Layer(Box(place, 0, 1, 1), "") for place in range(3)]
    assert [window._rasterised(layers, until=0.0) for _slice in layers] == [False, False, True]
    assert made == layers


def test_a_page_that_is_ready_in_time_is_done_at_once(monkeypatch):
    made = []
    monkeypatch.setattr(window, "_surface", lru_cache(made.append))
    layers = [Layer(Box(place, 0, 1, 1), "") for place in range(3)]
    assert window._rasterised(layers, until=time.monotonic() + 60)
    assert made == layers
