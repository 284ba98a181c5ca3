"""The computer's keys as piano keys."""

import os

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
import pygame
import pytest

from drills.window.computer_keys import ComputerKeys
from landmarks.pitch import Pitch, is_black

# SDL names a scancode by what stands at its place on a US keyboard.
LOWER_WHITE, LOWER_BLACK = "ZXCVBNM", "SDGHJ"
UPPER_WHITE, UPPER_BLACK = "QWERTYUIOP", "2356790"


def notes(letters):
    return [ComputerKeys().key_of(getattr(pygame, f"KSCAN_{letter}")) for letter in letters]


def test_the_two_lower_rows_play_the_octave_of_bass_c():
    assert notes(LOWER_WHITE) == [Pitch.parse(f"{letter}3").midi for letter in "CDEFGAB"]
    assert notes(LOWER_BLACK) == [Pitch.parse(f"{letter}#3").midi for letter in "CDFGA"]


def test_the_two_upper_rows_go_on_from_middle_c():
    assert notes(UPPER_WHITE) == [
        *(Pitch.parse(f"{letter}4").midi for letter in "CDEFGAB"), 72, 74, 76,
    ]  # fmt: skip
    assert notes(UPPER_BLACK) == [61, 63, 66, 68, 70, 73, 75]


def test_white_keys_lie_in_the_rows_of_white_keys_and_black_ones_above_them():
    assert not any(is_black(key) for key in notes(LOWER_WHITE + UPPER_WHITE))
    assert all(is_black(key) for key in notes(LOWER_BLACK + UPPER_BLACK))


@pytest.mark.parametrize("name", ["A", "F", "K", "L", "1", "4", "8", "SPACE", "RETURN", "ESCAPE"])
def test_a_key_without_a_note_plays_nothing(name):
    assert ComputerKeys().key_of(getattr(pygame, f"KSCAN_{name}")) is None


def shifted(octaves):
    keys = ComputerKeys()
    for octave in octaves:
        keys.shift(octave)
    return keys


def test_the_rows_can_be_shifted_by_octaves_over_the_whole_piano():
    lowest, highest = shifted([-1] * 9), shifted([1] * 9)
    assert lowest.key_of(pygame.KSCAN_Z) == Pitch.parse("C1").midi
    assert highest.key_of(pygame.KSCAN_Q) == Pitch.parse("C7").midi
    octaves = [shifted([-1] * 9 + [1] * up).key_of(pygame.KSCAN_Z) for up in range(6)]
    assert octaves == [Pitch.parse(f"C{octave}").midi for octave in range(1, 7)]


def test_rows_that_reached_an_end_come_back_at_the_first_press():
    assert shifted([1] * 9 + [-1]).key_of(pygame.KSCAN_Z) == Pitch.parse("C5").midi
