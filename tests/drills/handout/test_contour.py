"""Contours: they rise, fall and stay, and stay small enough to trace."""

import re
from itertools import groupby, pairwise

from hypothesis import given
from hypothesis import strategies as st

from drills.contour import Contour
from drills.handout.contour import SHAPES, contour_picture, invented_contour

seeds = st.integers(0, 2**32)


@given(seeds)
def test_a_contour_goes_up_and_down_and_stays_but_never_long_one_way(seed):
    contour = invented_contour(seed)
    assert len(contour.heights) == SHAPES
    assert set(contour.moves) == {1, 0, -1}
    assert max(len(list(run)) for _, run in groupby(contour.moves)) <= 3
    assert max(contour.heights) - min(contour.heights) <= 4
    assert invented_contour(seed) == contour


@given(seeds)
def test_it_is_drawn_as_it_goes_from_left_to_right(seed):
    """On a page a smaller y is higher."""
    contour = invented_contour(seed)
    drawn = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', contour_picture(contour))
    places = [(float(x), float(y)) for x, y in drawn]
    for ((x, y), (later_x, later_y)), move in zip(pairwise(places), contour.moves, strict=True):
        assert later_x > x
        assert (later_y < y) == (move > 0)
        assert (later_y == y) == (move == 0)


def test_it_is_told_to_those_who_do_not_see_it():
    assert 'aria-label="A line of shapes: up, the same, down"' in contour_picture(
        Contour(0, (1, 0, -1))
    )
