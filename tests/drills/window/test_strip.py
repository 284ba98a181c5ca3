"""The keyboard strip: where its keys are, and which one is touched."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.cards.card import cards_of, key_cards
from drills.engrave import palette
from drills.engrave.layer import Box, page_png
from drills.window.pages.keyboard_strip import (
    drawn_strip,
    held_key,
    lit_key,
    strip_of,
    whole_piano,
)
from landmarks.pitch import is_black
from landmarks.sets import built_in_sets
from tests.drawn import pixels

PIANO = range(21, 109)
"""A0 to C8, the keys of a piano, by their MIDI 1.0 numbers."""

boxes = st.builds(
    Box, st.integers(0, 100), st.integers(0, 900), st.integers(400, 3800), st.integers(40, 500)
)
key_sets = st.lists(st.sampled_from(PIANO), min_size=1, max_size=12)
strips = st.one_of(st.builds(strip_of, boxes, key_sets), st.builds(whole_piano, boxes))


@given(boxes, key_sets)
def test_a_strip_holds_every_key_that_is_wanted_from_white_key_to_white_key(box, keys):
    strip = strip_of(box, keys)
    assert strip.lowest <= min(keys)
    assert max(keys) <= strip.highest
    assert not is_black(strip.lowest)
    assert not is_black(strip.highest)
    assert PIANO[0] <= strip.lowest < strip.highest <= PIANO[-1]
    assert strip.lowest % 12 == 0 or strip.lowest == 21
    assert strip.highest % 12 == 0


@pytest.mark.parametrize("name", built_in_sets())
def test_every_card_of_every_set_has_its_key_on_the_strip(name):
    landmarks = built_in_sets()[name]
    cards = (*cards_of(landmarks), *key_cards(landmarks))
    strip = strip_of(Box(20, 600, 984, 161), [card.key for card in cards])
    for card in cards:
        box = strip.key_box(card.key)
        assert strip.key_at(box.x + box.width / 2, box.bottom - 2) == card.key


@given(strips)
@settings(max_examples=15)
def test_touching_the_middle_of_a_key_or_its_front_touches_that_key(strip):
    for key in range(strip.lowest, strip.highest + 1):
        box = strip.key_box(key)
        middle = box.x + (box.width - 1) / 2
        assert strip.key_at(middle, box.y + (box.height - 1) / 2) == key
        assert strip.key_at(middle, box.bottom - 1) == key


@given(strips, st.data())
def test_wherever_the_strip_is_touched_there_is_a_key_and_the_black_one_lies_on_top(strip, data):
    x = data.draw(st.integers(strip.box.x, strip.box.right - 1))
    y = data.draw(st.integers(strip.box.y, strip.box.bottom - 1))
    key = strip.key_at(x, y)
    assert key is not None
    assert strip.key_box(key).holds(x, y)
    here = [k for k in range(strip.lowest, strip.highest + 1) if strip.key_box(k).holds(x, y)]
    assert is_black(key) == any(is_black(k) for k in here)


@given(strips)
def test_beside_the_strip_there_is_no_key(strip):
    box = strip.box
    for x, y in [(box.x - 1, box.y), (box.right, box.y), (box.x, box.y - 1), (box.x, box.bottom)]:
        assert strip.key_at(x, y) is None


@given(strips)
def test_white_keys_stand_side_by_side_over_the_whole_width(strip):
    whites = [strip.key_box(key) for key in strip.white_keys]
    assert whites[0].x == strip.box.x
    assert whites[-1].right == strip.box.right
    assert all(one.right == other.x for one, other in pairwise(whites))
    assert max(w.width for w in whites) - min(w.width for w in whites) <= 1


def test_the_whole_piano_has_88_keys_of_which_52_are_white():
    strip = whole_piano(Box(0, 0, 1040, 150))
    assert (strip.lowest, strip.highest) == (21, 108)
    assert len(strip.white_keys) == 52
    assert strip.highest - strip.lowest + 1 == 88


STRIP = strip_of(Box(0, 0, 984, 160), [53, 72])


def drawn(*layers):
    return pixels(page_png(984, 160, layers))


def colour(picture, key, height):
    box = STRIP.key_box(key)
    red, green, blue = picture[box.x + box.width // 2, box.y + int(box.height * height), :3]
    return f"#{red:02x}{green:02x}{blue:02x}"


def test_keys_at_rest_are_white_and_black():
    picture = drawn(drawn_strip(STRIP))
    for key in range(STRIP.lowest, STRIP.highest + 1):
        assert colour(picture, key, 0.5) == (palette.INK if is_black(key) else palette.CARD)


@pytest.mark.parametrize("key", [60, 61, 62, 66, 71])
def test_a_held_key_is_darker_or_lighter_and_bears_a_dot_and_no_other_key_changes(key):
    rest = drawn(drawn_strip(STRIP))
    picture = drawn(drawn_strip(STRIP), held_key(STRIP, key, palette.ACCENT))
    assert colour(picture, key, 0.5) == (palette.PENCIL if is_black(key) else palette.PENCIL_SHADE)
    assert colour(picture, key, 0.83) == (palette.CARD if is_black(key) else palette.ACCENT)
    for other in range(STRIP.lowest, STRIP.highest + 1):
        if other != key:
            assert colour(picture, other, 0.5) == colour(rest, other, 0.5)
            assert colour(picture, other, 0.9) == colour(rest, other, 0.9)


def test_keys_held_side_by_side_are_all_seen_in_whatever_order_they_are_drawn():
    held = {60, 61, 62, 63, 64}
    for order in (sorted(held), sorted(held, reverse=True)):
        picture = drawn(drawn_strip(STRIP), *(held_key(STRIP, k, palette.INK) for k in order))
        for key in held:
            ground = palette.PENCIL if is_black(key) else palette.PENCIL_SHADE
            assert colour(picture, key, 0.5) == ground
    black = STRIP.key_box(61)
    right_half = drawn(drawn_strip(STRIP), held_key(STRIP, 61, "#000000"),
                       held_key(STRIP, 62, "#000000"))  # fmt: skip
    assert len({tuple(p) for p in right_half[black.x + 4 : black.right - 4, 40, :3]}) == 1


@pytest.mark.parametrize("key", [60, 61])
def test_a_lit_key_is_ringed_and_edged_so_that_it_is_seen_without_its_colour(key):
    rest = drawn(drawn_strip(STRIP))[:, :, :3].astype(int)
    lit = drawn(drawn_strip(STRIP), lit_key(STRIP, key))[:, :, :3].astype(int)
    grey_change = abs(lit.mean(axis=2) - rest.mean(axis=2)) > 30
    box = STRIP.key_box(key)
    inside = grey_change[box.x : box.right, box.y : box.bottom]
    assert inside.sum() > 150
    assert grey_change.sum() == inside.sum()
