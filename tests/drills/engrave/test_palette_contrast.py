"""The colours against each other: WCAG 2.2, success criteria 1.4.3 and 1.4.11."""

import pytest

from drills.engrave import palette


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


GROUNDS = ["PAPER", "CARD"]


def test_the_measure_gives_the_extremes_of_the_guidelines():
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#777777", "#777777") == 1
    # The often quoted grey that just fails on white (W3C's own examples; from memory: 4.48).
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("words", ["INK", "PENCIL"])
def test_words_stand_out_at_least_four_and_a_half_to_one(words, ground):
    assert contrast(getattr(palette, words), getattr(palette, ground)) >= 4.5


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("mark", ["INK", "PENCIL", "FADED", "ACCENT", "KEY_EDGE"])
def test_marks_stand_out_at_least_three_to_one(mark, ground):
    assert contrast(getattr(palette, mark), getattr(palette, ground)) >= 3


@pytest.mark.parametrize(
    ("dot", "key"),
    [
        ("CARD", "PENCIL"),
        ("INK", "PENCIL_SHADE"),
        ("ACCENT", "PENCIL_SHADE"),
        ("PENCIL", "PENCIL_SHADE"),
    ],
)
def test_the_dot_on_a_held_key_and_the_strokes_on_a_pencilled_note_stand_out(dot, key):
    assert contrast(getattr(palette, dot), getattr(palette, key)) >= 3
