from dataclasses import replace

import pytest

from drills.learning.response import State
from drills.reports.parent_sheet import parents_sheet
from drills.review.trouble import Trouble
from drills.text.formatting import listed


def with_states(review, state):
    notes = [replace(n, standing=replace(n.standing, state=state)) for n in review.notes]
    return replace(review, notes=tuple(notes))


@pytest.mark.parametrize(
    ("names", "written"),
    [
        ([], ""),
        (["treble G"], "treble G"),
        (["treble G", "bass F"], "treble G and bass F"),
        (["treble G", "bass F", "middle C"], "treble G, bass F and middle C"),
    ],
)
def test_names_are_listed_as_they_are_spoken(names, written):
    assert listed(names) == written


def test_a_pupil_with_every_note_in_ink_is_asked_to_keep_them(reviewed_studio):
    _, studio = reviewed_studio(0)
    sheet = parents_sheet(with_states(studio.pupils[0], State.INK))
    assert "All notes met so far are in ink: keep them so." in sheet


def test_a_pupil_who_has_met_no_note_is_not_told_that_all_are_in_ink(notebook):
    sheet = parents_sheet(notebook.review())
    assert "The first notes are met at the first practice." in sheet
    assert "in ink" not in sheet.partition("</style>")[2]


def test_a_sheet_names_no_more_notes_than_a_week_can_hold(reviewed_studio):
    _, studio = reviewed_studio(0)
    sheet = parents_sheet(with_states(studio.pupils[0], State.PENCIL))
    named = sheet.partition("Most helpful now: ")[2].partition(";")[0]
    assert len(named.replace(" and ", ", ").split(", ")) == 4


def test_a_sheet_compares_no_child_and_shows_no_seconds(reviewed_studio):
    _, studio = reviewed_studio(0)
    for review in studio.pupils:
        words = parents_sheet(review).partition("<body>")[2]
        assert "%" not in words
        assert "median" not in words
        assert not any(
            other.nickname in words for other in studio.pupils if other.nickname != review.nickname
        )


def test_every_trouble_has_its_advice_for_the_parent(notebook):
    notebook.session(("landmark/treble/G4", 1.0, True))
    review = notebook.review()
    for trouble in Trouble:
        finding = replace(notebook.review(days_later=30).troubles[0], trouble=trouble)
        assert "<p>" in parents_sheet(replace(review, troubles=(finding,)))
