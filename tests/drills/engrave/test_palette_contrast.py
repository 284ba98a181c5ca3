"""The colours of every look against each other: WCAG 2.2, success criteria 1.4.3, 1.4.6, 1.4.11."""

from typing import get_args

import pytest

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.theme import THEMES
from drills.storage.settings import Look
from tests.drawn import pixels


def luminance(colour):
    """Relative luminance: WCAG 2.2, definition of "relative luminance"."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = [
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in channels
    ]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """Contrast ratio: WCAG 2.2, definition of "contrast ratio"."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def contrast_in(look, one, other):
    theme = THEMES[look]
    return contrast(theme.of(getattr(palette, one)), theme.of(getattr(palette, other)))


ROLES = [name for name in vars(palette) if name.isupper()]
GROUNDS = ["PAPER", "CARD"]
LOOKS = list(THEMES)
WORDS = {"paper": 4.5, "high contrast": 7.0}
"""1.4.3 (level AA) and 1.4.6 (level AAA)."""
MARKS = {"paper": 3.0, "high contrast": 4.5}
"""1.4.11; high contrast asks for more than any criterion does."""


def test_the_measure_gives_the_extremes_of_the_guidelines():
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#777777", "#777777") == 1
    # The often quoted grey that just fails on white (W3C's own examples; from memory: 4.48).
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("words", ["INK", "PENCIL"])
def test_words_stand_out_as_far_as_the_look_promises(look, words, ground):
    assert contrast_in(look, words, ground) >= WORDS[look]


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("mark", ["INK", "PENCIL", "FADED", "ACCENT", "KEY_EDGE"])
def test_marks_stand_out_as_far_as_the_look_promises(look, mark, ground):
    assert contrast_in(look, mark, ground) >= MARKS[look]


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(
    ("dot", "key"),
    [
        ("CARD", "PENCIL"),
        ("INK", "PENCIL_SHADE"),
        ("ACCENT", "PENCIL_SHADE"),
        ("PENCIL", "PENCIL_SHADE"),
    ],
)
def test_the_dot_on_a_held_key_and_the_strokes_on_a_pencilled_note_stand_out(look, dot, key):
    assert contrast_in(look, dot, key) >= MARKS[look]


def test_no_two_roles_share_a_colour_or_a_look_could_not_tell_them_apart():
    assert len({getattr(palette, role) for role in ROLES}) == len(ROLES)


def test_there_is_a_look_for_each_that_can_be_set():
    assert list(get_args(Look)) == LOOKS


def test_paper_is_the_page_as_it_is_laid_out():
    page = [rectangle(Box(0, 0, 4, 4), palette.PAPER)]
    assert THEMES["paper"].layers(page) is page


def test_high_contrast_leaves_nothing_of_the_colours_of_paper():
    page = [
        Layer(Box(0, 0, 9, 9), f'<path d="M0 0H9" stroke="{getattr(palette, role)}"/>')
        for role in ROLES
    ]
    changed = THEMES["high contrast"].layers(page)
    kept = [old for old, new in zip(page, changed, strict=True) if old.markup == new.markup]
    assert not kept
    assert [layer.box for layer in changed] == [layer.box for layer in page]


def test_a_plain_ground_is_filled_with_the_colour_of_the_look():
    ground = THEMES["high contrast"].layers([rectangle(Box(0, 0, 4, 4), palette.PAPER)])[0]
    assert ground.plain_colour == "#ffffff"
    assert (pixels(ground.png())[:, :, :3] == 255).all()


def test_words_that_look_like_a_colour_stay_words():
    words = text(f'"{palette.INK}"', 100, 50, 20, palette.PENCIL)
    changed = THEMES["high contrast"].layers([words])[0]
    assert palette.INK in changed.markup
    assert palette.PENCIL not in changed.markup
