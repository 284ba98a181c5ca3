"""Whatever stands in a session file that can be read, the review says something and never fails."""

import re
from datetime import timedelta

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drills.reports.parent_sheet import parents_sheet
from drills.reports.pupil_page import pupil_page
from drills.reports.review_tables import csv_of, json_of
from drills.reports.review_text import pupil_lines, studio_lines
from drills.reports.studio_page import studio_page
from drills.review.whole_studio import review_studio

CARDS = (
    "landmark/treble/G4", "landmark/bass/F3", "step/treble/A4", "step/bass/E3",
    "landmark/bass/C4", "piece/treble/F#4", "key/treble/G4", "step/treble/Ebb6",
)  # fmt: skip
VERDICTS = st.sampled_from(["exact", "clef", "octave", "direction", "half step", "step", "leap"])
SECONDS = st.sampled_from([0.0, 1e-9, 0.001, 0.3, 1.2, 2.0, 29.0, 1e6])
ANSWERS = st.tuples(st.sampled_from(CARDS), SECONDS, st.one_of(st.just(True), st.integers(0, 127)))
SESSIONS = st.lists(
    st.tuples(st.lists(ANSWERS, max_size=12), st.sampled_from([0, 1, 3, 20, 400])), max_size=14
)


def all_that_is_told(review):
    studio = review_studio([review], review.now)
    return [
        pupil_page(review), parents_sheet(review), studio_page(studio), csv_of([review]),
        json_of([review]), *pupil_lines(review), *studio_lines(studio),
    ]  # fmt: skip


@settings(
    deadline=None, max_examples=30, suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
)  # fmt: skip
@given(sessions=SESSIONS, later=st.sampled_from([0, 1, 40]))
def test_odd_times_and_odd_days_are_reviewed(new_notebook, sessions, later):
    notebook = new_notebook()
    for answers, days in sessions:
        notebook.session(*answers, days_later=days)
    assert all(isinstance(words, str) for words in all_that_is_told(notebook.review(later)))


@pytest.mark.parametrize("seconds", [0.0, 1e-12])
def test_answers_in_no_time_at_all_are_told_and_nothing_is_divided_by_them(notebook, seconds):
    for _day in range(8):
        notebook.session(*[(card, seconds, True) for card in CARDS[:5]] * 3)
    notebook.session(*[(card, 2.0, True) for card in CARDS[:5]] * 3, days_later=20)
    page = pupil_page(notebook.review())
    figures = re.findall(r"<td.*?</td>", page, re.DOTALL)
    assert figures
    assert not any(re.search(r"\b(nan|inf)\b", figure) for figure in figures)
    assert "120 begun too soon" in page


def test_a_session_dated_after_now_is_no_session_of_today(notebook):
    notebook.session((CARDS[0], 1.0, True))
    early = notebook.started - timedelta(days=400)
    from drills.review.pupil import review_pupil

    assert all_that_is_told(review_pupil(notebook.record(), early))
