"""What a page counts of a note, and what it allows to be said."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.learning.counted_window import counted_window, is_trouble, supports_ink
from drills.learning.parameters import USUAL

RIGHT, WRONG = True, False


def test_a_page_counts_the_latest_ten_answers():
    assert counted_window([WRONG] * 5 + [RIGHT] * 10) == [RIGHT] * 10


@pytest.mark.parametrize(
    ("rights", "may"),
    [
        ([RIGHT] * 10, True),
        ([WRONG] + [RIGHT] * 9, True),
        ([WRONG] * 2 + [RIGHT] * 8, False),
        ([RIGHT] * 2, True),
        ([WRONG] + [RIGHT] * 3, False),
        ([WRONG] + [RIGHT] * 4, True),
        ([WRONG] * 8 + [RIGHT] * 10, True),
    ],
)
def test_nine_of_ten_support_ink_and_of_fewer_all_but_one_of_five(rights, may):
    assert supports_ink(rights) is may


@given(st.lists(st.booleans(), max_size=30))
def test_what_supports_ink_is_never_a_trouble_and_a_trouble_has_under_eight_of_ten(rights):
    window = counted_window(rights)
    assert not (supports_ink(rights) and is_trouble(rights))
    if len(window) == USUAL.window:
        assert is_trouble(rights) is (sum(window) < 8)
        assert supports_ink(rights) is (sum(window) >= 9)
