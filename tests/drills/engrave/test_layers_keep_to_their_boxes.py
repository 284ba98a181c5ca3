"""A layer draws nothing outside its box: the window shows the box, a picture shows it all."""

import pytest

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, page_png, rectangle, text
from drills.engrave.stave_card import (
    HIGHEST_POSITION,
    LOWEST_POSITION,
    Look,
    arrow,
    clef_mark,
    empty_card,
    engraved_staves,
    note,
    stave_card,
)
from drills.window.pages.keyboard_strip import (
    drawn_strip,
    held_key,
    lit_key,
    strip_of,
    whole_piano,
)
from landmarks.names import SIGNS
from landmarks.pitch import Pitch
from landmarks.stave import BASS, TREBLE
from tests.drawn import beside_its_box, pixels

CARDS = [Box(8, 8, 300, 130), Box(19, 19, 986, 456), Box(27, 27, 1866, 640), Box(0, 0, 301, 333)]
STAVES = [(TREBLE,), (BASS,), (TREBLE, BASS)]
EXTREMES = [LOWEST_POSITION, LOWEST_POSITION + 1, 3, 4, HIGHEST_POSITION - 1, HIGHEST_POSITION]


@pytest.mark.parametrize("box", CARDS, ids=str)
@pytest.mark.parametrize("clefs", STAVES, ids=["treble", "bass", "grand"])
def test_a_card_its_staves_and_their_marks(box, clefs):
    card = stave_card(box, clefs)
    clef = clefs[0]
    layers = [
        *empty_card(box), *engraved_staves(card),
        clef_mark(card, BASS, 6, 11.0), clef_mark(card, TREBLE, 2, 11.0),
        arrow(card, 12.6, card.y(clef, -6), card.y(clef, 12)),
        arrow(card, 12.6, card.y(clef, 5), card.y(clef, 4)),
    ]  # fmt: skip
    assert [beside_its_box(layer) for layer in layers] == [0] * len(layers)


@pytest.mark.parametrize("box", CARDS[1:3], ids=str)
@pytest.mark.parametrize("look", Look)
@pytest.mark.parametrize("position", EXTREMES)
def test_a_note_with_its_stem_its_sign_and_its_ledger_lines(box, look, position):
    card = stave_card(box, (TREBLE,))
    for alteration in (-2, 0, 2):
        pitch = Pitch(TREBLE.pitch_at(position).diatonic, alteration)
        assert beside_its_box(note(card, TREBLE, pitch, look, 14.2)) == 0


@pytest.mark.parametrize("size", [8, 20.5, 52.2])
@pytest.mark.parametrize("words", ["WWWWWWWWWWWWWWWWWWWWWWWW", "i", "ÅÉgjpq♯♭", "treble G"])
def test_a_line_of_words_even_of_the_widest_letters(size, words):
    assert beside_its_box(text(words, 700.3, 200.7, size, palette.INK), 300) == 0


@pytest.mark.parametrize("width", [304, 984, 1866])
@pytest.mark.parametrize("keys", ["of the cards", "all"])
def test_the_strip_and_its_held_and_lit_keys(width, keys):
    box = Box(20, 300, width, width // 6)
    strip = strip_of(box, [53, 72]) if keys == "of the cards" else whole_piano(box)
    assert beside_its_box(drawn_strip(strip)) == 0
    for key in (strip.lowest, 60, 61, 62, 64, 65, 66, strip.highest):
        assert beside_its_box(held_key(strip, key, palette.ACCENT)) == 0
        assert beside_its_box(lit_key(strip, key)) == 0


def test_a_layer_is_as_large_as_its_box_and_a_page_as_it_was_asked_for():
    layer = rectangle(Box(10, 20, 31, 17), palette.INK)
    assert pixels(layer.png()).shape == (31, 17, 4)
    assert (pixels(layer.png())[:, :, :3] == [0x1B, 0x23, 0x40]).all()
    page = pixels(page_png(64, 48, [layer]))
    assert page.shape == (64, 48, 4)
    assert page[10:41, 20:37, 3].all()
    assert page[:, :, 3].sum() == 255 * 31 * 17


def test_later_layers_lie_over_earlier_ones():
    box = Box(0, 0, 4, 4)
    page = pixels(page_png(4, 4, [rectangle(box, "#ff0000"), rectangle(box, "#00ff00")]))
    assert (page[:, :, :3] == [0, 255, 0]).all()


def test_words_are_words_whatever_stands_in_them():
    layer = text("<b>&\"'", 100, 50, 20, palette.INK)
    assert pixels(layer.png())[:, :, 3].any()


@pytest.mark.parametrize("sign", [sign for sign in SIGNS.values() if sign])
def test_the_font_of_the_words_has_the_signs_of_note_names(sign):
    whole = Box(0, 0, 100, 80)
    drawn, missing = [
        pixels(Layer(whole, text(words, 50, 50, 40, palette.INK).markup).png())
        for words in (sign, "\ue123")
    ]
    assert (drawn != missing).any()
    assert drawn[:, :, 3].any()


def test_a_box_holds_its_upper_left_corner_and_not_its_lower_right_one():
    box = Box(10, 20, 30, 40)
    assert box.holds(10, 20)
    assert box.holds(39.9, 59.9)
    assert not box.holds(40, 30)
    assert not box.holds(30, 60)
    assert not box.holds(9.9, 30)
    assert (box.right, box.bottom) == (40, 60)


def test_only_a_filled_box_has_a_plain_colour():
    assert rectangle(Box(0, 0, 2, 2), palette.CARD).plain_colour == palette.CARD
    assert Layer(Box(0, 0, 2, 2), "").plain_colour is None
