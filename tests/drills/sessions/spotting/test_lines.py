"""Which lines are shown, and what is asked of each."""

from collections import Counter
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.sessions.spotting.pages import (
    MOST_QUESTIONS,
    NothingToFindError,
    invented_pages,
    pages_of_score,
)
from drills.sessions.spotting.question import parse_question, wanted_in
from landmarks.line import line_of
from landmarks.sets import built_in_sets
from tests.musicxml import attributes, note, score

FIVE = built_in_sets()["five"]
ASKED = [parse_question(text) for text in ("treble G", "bass C", "middle C", "crotchet")]


@given(st.integers(0, 2**32), st.booleans())
@settings(max_examples=30)
def test_everything_asked_of_an_invented_line_is_in_it(seed, grand):
    for page in islice(invented_pages(FIVE, ASKED, seed, grand), 6):
        assert 1 <= len(page.questions) <= MOST_QUESTIONS
        for question in page.questions:
            assert wanted_in(page.line, question)


@given(st.integers(0, 2**32))
@settings(max_examples=20)
def test_in_a_few_lines_everything_is_asked_and_nothing_far_more_often(seed):
    notes = ASKED[:3]
    pages = islice(invented_pages(FIVE, notes, seed), 9)
    counts = Counter(question for page in pages for question in page.questions)
    assert set(counts) == set(notes)
    assert min(counts.values()) >= 3


def test_the_same_seed_shows_the_same_lines():
    def first(seed):
        return [page.line for page in islice(invented_pages(FIVE, ASKED, seed), 3)]

    assert first(7) == first(7)
    assert first(7) != first(8)


@pytest.mark.parametrize("text", ["F#4", "semiquaver"])
def test_what_no_invented_line_holds_is_refused_at_once(text):
    with pytest.raises(NothingToFindError, match="name a score that does"):
        invented_pages(FIVE, [parse_question("treble G"), parse_question(text)], 1)


def test_lines_of_a_score_without_what_is_asked_are_passed_over():
    def bar(pitch):
        return line_of(score(attributes() + note(pitch, 4, "whole")), pitch)

    lines = [bar("A4"), bar("G4"), bar("B4"), bar("C4")]
    pages = list(pages_of_score(lines, ASKED[:3]))
    assert [page.line.source for page in pages] == ["G4", "C4"]
    assert [[q.name for q in page.questions] for page in pages] == [["treble G"], ["middle C"]]
