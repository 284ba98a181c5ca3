"""Words fit the room they are given."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.engrave.layer import text
from drills.engrave.words import SMALLEST, broken, fit_words, words_width
from tests.drawn import pixels

readable = st.text(st.characters(min_codepoint=32, max_codepoint=0x17F), min_size=1, max_size=40)


@given(readable, st.floats(8, 80), st.floats(30, 2000))
def test_fitted_words_are_no_wider_than_their_room(words, size, width):
    shown, fitting = fit_words(words, size, width)
    assert words_width(shown) * fitting <= width * 1.01 or shown == "…"
    assert SMALLEST * size * 0.999 <= fitting <= size


@given(st.lists(readable, min_size=1, max_size=12), st.floats(200, 900))
def test_broken_lines_hold_every_phrase_in_its_order(phrases, width):
    lines = broken(phrases, " · ", 20, width)
    assert " · ".join(lines) == " · ".join(phrases)
    assert all(words_width(line) * 20 <= width or line in phrases for line in lines)


@pytest.mark.parametrize("words", ["WWWWWWWWWW", "middle C", "landmarks and steps", "iiii"])
def test_the_measured_width_is_that_of_the_drawn_words(words):
    """resvg draws with the font's own advance widths; its side bearings stay blank."""
    layer = text(words, 500, 100, 40, "#000000")
    columns = pixels(layer.png())[..., 3].any(axis=1).nonzero()[0]
    drawn = columns[-1] - columns[0] + 1
    assert abs(drawn - words_width(words) * 40) < 0.3 * 40
