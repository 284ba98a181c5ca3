"""Lines of shapes before the stave: what they are, what is drawn, what can be made."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.card import contour_card, parse_card
from drills.cards.contour import MOVES, STAGES, Contour, drawn_lines, generated, room, turns
from landmarks.stave import BASS, CLEFS, STAVE_LINES, TREBLE

clefs = st.sampled_from(sorted(CLEFS.values()))
stages = st.sampled_from(sorted(STAGES.values()))
moves = st.lists(st.sampled_from(sorted(MOVES.values())), min_size=1, max_size=9)


def test_a_line_of_shapes_reads_as_a_teacher_would_say_it():
    contour = Contour.parse("one-line/up,stay,skip-down")
    assert contour == Contour(1, (1, 0, -2))
    assert contour.heights == (0, 1, 1, -1)


@given(stages, moves)
def test_what_is_written_is_read_back(lines, sizes):
    contour = Contour(lines, tuple(sizes))
    assert Contour.parse(str(contour)) == contour


@pytest.mark.parametrize("text", ["", "up", "one-line/", "three-lines/up", "no-stave/up,,down"])
def test_what_is_no_line_of_shapes_is_refused(text):
    with pytest.raises(ValueError, match="is no contour, as in one-line/up,stay,down"):
        Contour.parse(text)


# The line that a clef marks and the next one towards the middle line: G4 and B4 in the treble
# clef (lines 2 and 3), F3 and D3 in the bass clef (lines 4 and 3). Handbook of the stave.
def test_the_stave_grows_around_the_line_that_the_clef_will_mark():
    assert [drawn_lines(TREBLE, n) for n in (0, 1, 2, 5)] == [(), (2,), (2, 4), STAVE_LINES]
    assert [drawn_lines(BASS, n) for n in (0, 1, 2, 5)] == [(), (6,), (4, 6), STAVE_LINES]


@given(clefs, stages, st.integers(3, 9), st.booleans(), st.integers(0, 10**6))
def test_made_lines_keep_to_their_room_and_begin_where_they_say(clef, lines, length, winding, seed):
    start, contour = generated(clef, lines, length, winding, random.Random(seed))
    lowest, highest = room(clef, lines)
    assert (contour.lines, len(contour.moves)) == (lines, length)
    assert all(lowest <= start + height <= highest for height in contour.heights)
    card = contour_card(clef, start, contour)
    assert clef.position(card.target) == start
    assert parse_card(card.id) == card
    assert card.contour == contour


@given(clefs, st.integers(3, 9), st.integers(0, 10**6))
def test_a_plain_line_goes_by_step_and_turns_little_where_there_is_room(clef, length, seed):
    _, contour = generated(clef, 5, length, False, random.Random(seed))
    assert max(map(abs, contour.moves)) <= 1
    assert contour.moves.count(0) <= 1
    assert turns(contour.moves) <= 2


@given(clefs, stages, st.integers(0, 10**6))
def test_the_same_seed_makes_the_same_line(clef, lines, seed):
    one, other = (generated(clef, lines, 6, True, random.Random(seed)) for _ in range(2))
    assert one == other


def test_winding_lines_have_skips_and_repeated_shapes_and_plain_ones_none_of_the_former():
    made = [generated(TREBLE, 5, 8, True, random.Random(seed))[1].moves for seed in range(50)]
    kinds = {size for line in made for size in line}
    assert kinds == {-2, -1, 0, 1, 2}
