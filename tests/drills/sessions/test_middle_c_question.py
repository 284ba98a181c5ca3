"""Key numbers: MIDI 1.0 Detailed Specification, middle C is 60."""

from hypothesis import given
from hypothesis import strategies as st

from drills.sessions.tuning import MiddleCQuestion, unshifted


def ask(*keys):
    question = MiddleCQuestion()
    answers = [question.press(key) for key in keys]
    return answers[-1]


def test_middle_c_at_once_means_no_shift():
    assert ask(60) == 0


def test_another_key_once_asks_again():
    assert ask(72) is None


def test_another_key_twice_in_a_row_tells_the_shift():
    assert ask(72, 72) == 12  # an octave up
    assert ask(58, 58) == -2  # transposed for a B flat instrument
    assert ask(36, 36) == -24
    assert ask(84, 84) == 24


def test_a_slip_before_middle_c_is_forgiven():
    assert ask(62, 60) == 0


def test_two_different_keys_ask_again():
    assert ask(72, 71) is None
    assert ask(72, 71, 72) is None
    assert ask(72, 71, 71) == 11


def test_a_key_farther_than_two_octaves_is_no_middle_c():
    assert ask(85, 85) is None
    assert ask(35, 35, 35) is None


def test_the_answer_stays_once_it_is_known():
    question = MiddleCQuestion()
    assert question.shift is None
    question.press(48)
    question.press(48)
    assert question.shift == -12


@given(st.integers(-24, 24), st.integers(0, 127))
def test_a_shifted_piano_is_put_right(shift, key):
    assert ask(60 + shift, 60 + shift) == shift
    assert unshifted(key + shift, shift) == key


def test_a_key_number_outside_midi_is_none():
    assert unshifted(3, 12) is None
    assert unshifted(120, -12) is None
