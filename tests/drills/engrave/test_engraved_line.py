"""Engraved lines: every head where its pitch belongs, and nothing that needs a font or style."""

import re
from itertools import islice, pairwise

import music21
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.engrave.layer import Box, Layer
from drills.engrave.line import engraved_line
from landmarks.excerpt import score_lines
from landmarks.melody import invented_melody
from landmarks.melody_musicxml import melody_line
from landmarks.sets import built_in_sets
from tests.drawn import beside_its_box, pixels

FIVE = built_in_sets()["five"]
ROOM = (935, 420, 32.0)


def invented(seed, grand=False):
    anchor = FIVE.anchors[seed % len(FIVE.anchors)]
    return melody_line(invented_melody(FIVE, anchor, seed, grand=grand))


def of_corpus(piece, count=4):
    path = music21.corpus.getWork(piece)
    return list(islice(score_lines(path), count))


LINES = [
    *(invented(seed, grand) for seed in range(6) for grand in (False, True)),
    *of_corpus("bach/bwv846"),
    *of_corpus("joplin/maple_leaf_rag", 8),
    *of_corpus("schumann_clara/polonaise_op1n1"),
]


def stave_tops(engraved):
    """The y of the top line of each stave, from the drawn stave lines, five to a stave."""
    rows = sorted(
        {int(y) for y in re.findall(r'<rect x="-?\d+" y="(-?\d+)" width="\d+" ', engraved.markup)}
    )
    thickness = int(re.search(r'<rect [^>]*height="(\d+)"', engraved.markup)[1])
    rows = [row + thickness // 2 for row in rows]
    merged = [y for n, y in enumerate(rows) if n == 0 or y - rows[n - 1] > 1]
    assert len(merged) % 5 == 0
    return merged[::5]


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.source)
def test_every_head_lies_on_the_line_or_space_of_its_pitch(line):
    """Stave geometry: a position is half a space, the top line is position 8."""
    engraved = engraved_line(line, *ROOM)
    tops = stave_tops(engraved)
    assert len(engraved.heads) == len(line.notes)
    for note, head in zip(line.notes, engraved.heads, strict=True):
        from_top = (8 - note.clef.position(note.pitch)) * engraved.space / 2
        assert min(abs(top + from_top - head.y) for top in tops) < 1.5


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.source)
def test_heads_stand_from_left_to_right_as_the_notes_sound(line):
    engraved = engraved_line(line, 3000, 420, 12.0)
    pairs = list(zip(line.notes, engraved.heads, strict=True))
    for (note, head), (later, later_head) in pairwise(pairs):
        if later.onset > note.onset:
            assert later_head.x > head.x
        elif later.stave == note.stave:
            # Seconds and unisons of one moment stand beside each other.
            assert abs(later_head.x - head.x) < 2.5 * engraved.space


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.source)
def test_a_line_asks_for_no_font_and_no_style(line):
    markup = engraved_line(line, *ROOM).markup
    assert set(re.findall(r"<(\w+)", markup)) <= {
        "g", "path", "rect", "polygon", "polyline", "ellipse",
    }  # fmt: skip
    assert not re.search(r"href|class=|style|currentColor|\bid=", markup)


@pytest.mark.parametrize("size", [(935, 420, 32.0), (1766, 590, 45.0), (400, 200, 20.0)])
@pytest.mark.parametrize("line", LINES[:16:3], ids=lambda line: line.source)
def test_a_line_fits_its_room_and_draws_nothing_beside_it(line, size):
    engraved = engraved_line(line, *size)
    assert engraved.width <= size[0] + 1
    assert engraved.height <= size[1]
    assert engraved.space <= size[2]
    box = Box(0, 0, int(engraved.width) + 1, int(engraved.height) + 1)
    assert beside_its_box(Layer(box, engraved.markup)) == 0


@pytest.mark.parametrize("line", LINES[:16:5], ids=lambda line: line.source)
def test_where_a_filled_head_is_said_to_be_there_is_ink(line):
    engraved = engraved_line(line, *ROOM)
    layer = Layer(Box(0, 0, int(engraved.width) + 1, int(engraved.height) + 1), engraved.markup)
    alpha = pixels(layer.png())[:, :, 3]
    filled = [
        head
        for note, head in zip(line.notes, engraved.heads, strict=True)
        if note.value and note.value.quarters < 2
    ]
    assert filled
    for head in filled:
        around = alpha[int(head.x) - 2 : int(head.x) + 3, int(head.y) - 2 : int(head.y) + 3]
        assert around.min() == 255


def test_stave_lines_are_sharp():
    """On whole pixels, so that none is a grey blur."""
    engraved = engraved_line(invented(1), *ROOM)
    layer = Layer(Box(0, 0, int(engraved.width) + 1, int(engraved.height) + 1), engraved.markup)
    clear = pixels(layer.png())[int(engraved.width) - 40, :, 3]
    assert set(clear.tolist()) <= {0, 255}


@given(st.integers(0, 30), st.booleans(), st.data())
@settings(max_examples=40)
def test_a_finger_on_a_head_means_that_note(seed, grand, data):
    line = invented(seed, grand)
    engraved = engraved_line(line, *ROOM)
    number = data.draw(st.integers(0, len(line.notes) - 1))
    head = engraved.heads[number]
    assert engraved.head_at(head.x, head.y, engraved.space) == number
    assert engraved.head_at(-500, -500, engraved.space) is None


def test_the_same_line_is_engraved_the_same_again():
    line = invented(3)
    assert engraved_line.__wrapped__(line, *ROOM) == engraved_line.__wrapped__(line, *ROOM)
