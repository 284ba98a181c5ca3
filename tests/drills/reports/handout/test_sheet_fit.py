"""A sheet is about what the review names first."""

import pytest

from drills.cards.card import Kind, cards_of
from drills.reports.sheet_fit import fit_sheet
from drills.review.notes import note_name
from drills.review.trouble import Finding, Trouble
from landmarks.sets import built_in_sets

WEEK = cards_of(built_in_sets()["five"])[:6]
OUTSIDE = cards_of(built_in_sets()["five"])[-1]


def found(trouble, *cards):
    return [Finding(trouble, "it is so.", "mend it", "it is so", cards)]


def test_without_a_trouble_the_week_stands_on_it_and_no_hint():
    fit = fit_sheet(WEEK, [])
    assert (fit.hint, fit.cards, fit.asked) == ("", WEEK, WEEK)


@pytest.mark.parametrize("trouble", Trouble)
def test_every_trouble_has_a_sentence_for_the_pupil(trouble):
    hint = fit_sheet(WEEK, found(trouble, OUTSIDE)).hint
    assert hint.endswith((".", "?"))
    assert "{" not in hint


def test_the_notes_that_are_named_come_first_and_are_looked_for():
    fit = fit_sheet(WEEK, found(Trouble.CLEF, OUTSIDE, WEEK[2]))
    assert set(fit.cards[:2]) == {OUTSIDE, WEEK[2]} == set(fit.asked)
    assert len(fit.cards) == len(WEEK)


def test_the_note_that_she_is_stuck_on_is_named():
    assert note_name(OUTSIDE) in fit_sheet(WEEK, found(Trouble.NOTE, OUTSIDE)).hint


def test_after_much_guessing_there_are_a_few_landmarks_only():
    fit = fit_sheet(cards_of(built_in_sets()["five"]), found(Trouble.GUESSED))
    assert 0 < len(fit.cards) <= 3
    assert {card.kind for card in fit.cards} == {Kind.LANDMARK}


@pytest.mark.parametrize("trouble", Trouble)
def test_there_is_always_a_note_to_look_for(trouble):
    assert fit_sheet(WEEK[:1], found(trouble)).asked
