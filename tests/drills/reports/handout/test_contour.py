"""Contours on paper: the lines of shapes of the cards, drawn as they go."""

import random
import re
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from drills.cards.contour import Contour, room, turns
from drills.learning.prior_knowledge.prior_knowledge import NOTHING, PriorKnowledge
from drills.reports.sheet_contours import contour_picture, invented_contours
from landmarks.stave import TREBLE

seeds = st.integers(0, 2**32)
DANCER = PriorKnowledge(frozenset({"pulse", "clap-back"}))
"""She keeps a pulse and claps back patterns, so her lines are long and turn freely."""


def made(seed, brought=NOTHING):
    return invented_contours(4, brought, random.Random(seed))


@given(seeds)
def test_they_differ_and_go_as_on_the_cards_of_a_pupil_of_whom_nothing_is_known(seed):
    contours = made(seed)
    assert len(set(contours)) == 4
    lowest, highest = room(TREBLE, 0)
    for contour in contours:
        assert len(contour.moves) == NOTHING.line_length
        assert max(map(abs, contour.moves)) <= 1
        assert contour.moves.count(0) <= 1
        assert turns(contour.moves) <= 2
        assert max(contour.heights) - min(contour.heights) <= highest - lowest
    assert made(seed) == contours


@given(seeds)
def test_a_pupil_with_a_pulse_has_longer_lines(seed):
    assert {len(contour.heights) for contour in made(seed, DANCER)} == {8}


def test_a_pupil_who_claps_back_patterns_has_skips_and_repeated_shapes():
    moves = {move for seed in range(20) for c in made(seed, DANCER) for move in c.moves}
    assert moves == {-2, -1, 0, 1, 2}


@given(seeds)
def test_they_are_drawn_as_they_go_from_left_to_right(seed):
    """On a page a smaller y is higher."""
    for contour in made(seed, DANCER):
        drawn = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', contour_picture(contour))
        places = [(float(x), float(y)) for x, y in drawn]
        for ((x, y), (later_x, later_y)), move in zip(pairwise(places), contour.moves, strict=True):
            assert later_x > x
            assert (later_y < y) == (move > 0)
            assert (later_y == y) == (move == 0)


def test_it_is_told_to_those_who_do_not_see_it():
    assert 'aria-label="A line of shapes: a skip up, the same, down"' in contour_picture(
        Contour(0, (2, 0, -1))
    )
