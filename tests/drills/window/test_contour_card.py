"""A line of shapes as it is drawn: stave lines, ink, the shape to play, the way to go."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.cards.card import cards_of, contour_card, key_cards, parse_card
from drills.cards.contour import STAGES, generated
from drills.engrave import palette
from drills.engrave.layer import Box
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.card_words import remark
from drills.window.pages.contour_card import contour_layers
from drills.window.pages.key_card import key_layers
from drills.window.pages.keyboard_strip import lit_key
from landmarks.names import LETTER
from landmarks.stave import BASS, TREBLE
from tests.scripted_drill import FIVE, PlayedDrill

BOX = Box(20, 20, 984, 400)
LINE = parse_card("contour/treble/G4/one-line/up,stay,down,down")


def drawn(drill, card=LINE):
    return "".join(layer.markup for layer in contour_layers(drill.view, card, BOX))


@pytest.mark.parametrize(("stage", "lines"), STAGES.items())
def test_as_many_stave_lines_are_drawn_as_the_stage_has(stage, lines):
    card = parse_card(f"contour/bass/F3/{stage}/up,down")
    assert drawn(PlayedDrill(card), card).count("<rect") == lines


def heights(markup):
    return [float(y) for y in re.findall(r"translate\([\d.]+,([\d.]+)\)", markup)]


def test_higher_shapes_lie_higher_on_the_page_and_the_line_goes_from_left_to_right():
    markup = drawn(PlayedDrill(LINE))
    first, second, third, fourth, fifth = heights(markup)
    assert first > second == third < fourth == first < fifth
    lefts = [float(x) for x in re.findall(r"translate\(([\d.]+),", markup)]
    assert lefts == sorted(lefts)


def test_shapes_turn_to_ink_as_they_are_played_and_the_ring_goes_on():
    drill = PlayedDrill(LINE)
    rings = []
    for inked, key in enumerate((60, 62, 62, 60, 59)):
        markup = drawn(drill)
        assert markup.count(f'fill="{palette.INK}" stroke') == inked
        rings.append(float(re.search(r'<circle cx="([\d.]+)"', markup)[1]))
        drill.play(key)
    assert rings == sorted(set(rings))
    assert "<circle" not in drawn(drill)


def test_after_a_move_the_wrong_way_an_arrow_and_words_say_which_way():
    drill = PlayedDrill(LINE)
    drill.play(60)
    assert "<path" not in drawn(drill)
    drill.play(58)
    assert remark(drill.view, LETTER).headline == "go higher"
    assert "<path" not in drawn(drill)
    drill.play(58)
    assert "<path" in drawn(drill)
    drill.play(62)
    drill.play(64)
    assert remark(drill.view, LETTER).headline == "stay"


def test_a_shape_missed_three_times_lights_a_key_that_goes_its_way():
    drill = PlayedDrill(LINE)
    drill.play(60)
    for _ in range(3):
        drill.play(58)
    setting = PageSetting(1024, 768, False, LETTER, cards_of(FIVE))
    strip = setting.strip(drill.view)
    lit = lit_key(strip, 62)
    assert lit in practice_page(drill.view, setting)


@given(
    st.sampled_from([TREBLE, BASS]), st.sampled_from([*STAGES.values()]), st.sampled_from([4, 7]),
    st.booleans(), st.randoms(use_true_random=False),
    st.sampled_from([(1024, 768), (1920, 1080), (640, 480)]),
)  # fmt: skip
@settings(max_examples=40)
def test_every_line_fits_on_its_card(clef, lines, length, winding, chance, size):
    start, contour = generated(clef, lines, length, winding, chance)
    card = contour_card(clef, start, contour)
    setting = PageSetting(*size, False, LETTER, (*cards_of(FIVE), *key_cards(FIVE)))
    box = setting.card_box
    drill = PlayedDrill(card)
    for layer in contour_layers(drill.view, card, box):
        assert box.x <= layer.box.x <= layer.box.right <= box.right
        assert box.y <= layer.box.y <= layer.box.bottom <= box.bottom
    assert practice_page(drill.view, setting)


# Where the white keys lie about the black ones: a keyboard's plain geography.
@pytest.mark.parametrize(
    ("note", "blacks", "whites"),
    [("C4", 2, 3), ("D4", 2, 3), ("E4", 2, 3), ("F4", 3, 4), ("G4", 3, 4), ("B4", 3, 4)],
)
def test_a_key_by_its_place_is_drawn_in_its_group_of_black_keys(note, blacks, whites):
    group, marked = key_layers(parse_card(f"key/treble/{note}/place"), BOX, LETTER)
    assert group.markup.count(f'fill="{palette.INK}"') == blacks
    assert group.markup.count(f'fill="{palette.CARD}"') == whites
    assert palette.ACCENT in marked.markup
