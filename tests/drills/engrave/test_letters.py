"""A name in any script is drawn, or told by a dot for each letter, and never as boxes."""

import pytest

from drills.engrave.layer import page_png, text
from drills.engrave.letters import STAND_IN, covered, drawable

NOWHERE = "\U0010fffc"
"""For private use only (Unicode chapter 23): no font has it."""


@pytest.mark.parametrize("name", ["Wren", "Zoë", "Ŵren", "Женя", "F♯", "O'Brien & Söhne"])
def test_the_font_has_the_letters_of_latin_and_cyrillic_names(name):
    assert covered(name)
    assert drawable(name) == name


def test_a_letter_that_no_font_has_becomes_a_dot():
    assert drawable(f"Wren{NOWHERE}") == f"Wren{STAND_IN}"


def test_such_a_name_is_read_out_as_it_is_and_drawn_with_dots():
    layer = text(NOWHERE * 3, 100, 50, 20, "#000000")
    assert layer.words == NOWHERE * 3
    assert f">{STAND_IN * 3}<" in layer.markup


def test_a_drawn_name_is_not_the_picture_of_missing_letters():
    def drawn(words):
        return page_png(100, 60, [text(words, 50, 40, 20, "#000000")])

    assert drawn("Wren") != drawn(NOWHERE * 4)
    assert drawn(NOWHERE * 4) == drawn(STAND_IN * 4)


def test_letters_of_another_script_are_drawn_by_a_font_of_the_computer_or_told_by_dots():
    """Of the Greek letters our font has a few signs of phonetics."""
    assert not covered("Λένα")
    assert drawable("Λένα") in ("Λένα", f"{STAND_IN * 3}α")
