"""Whatever stands in a session file that can be read, the review says something and never fails."""

import json
import re
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drills.reports.parent_sheet import parents_sheet
from drills.reports.pupil_page import pupil_page
from drills.reports.review_tables import csv_of, json_of
from drills.reports.review_text import pupil_lines, studio_lines
from drills.reports.studio_page import studio_page
from drills.review.collect import collect
from drills.review.pupil import review_pupil
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
    assert all_that_is_told(review_pupil(notebook.record(), early))


HEADER = {
    "format": "landmark-drills session", "version": 1, "pupil": "Fern", "clock_ns": 0,
    "session": "00000001-0000-4000-8000-000000000000", "program": "0", "port": None,
    "clock": "simulated", "set": "five", "seed": 0, "started": "2026-10-20T16:00:00+00:00",
}  # fmt: skip
ANSWER = {
    "event": "answer", "t": 1000.0, "id": CARDS[0], "verdict": "exact", "played": 67, "ms": 1200.0,
    "attempt": 1, "hints": 0, "counted": True,
}  # fmt: skip
RUNG = {"event": "rung", "t": 0.0, "rung": "\x1b[31m", "by": "answers", "why": "\x1b[2J"}
NOW = datetime(2026, 10, 30, 21, tzinfo=UTC)


@pytest.mark.parametrize(
    ("header", "line"),
    [
        ({"started": "9999-12-31T23:59:59+00:00"}, {}),
        ({"started": "0001-01-01T00:00:00+14:00"}, {}),
        ({"started": "1970-01-01T00:00:00-14:00"}, {}),
        ({"set": "\x1b[2J", "use": "no use"}, {}),
        ({}, {"ms": 1e10}),
        ({}, {"ms": 1e-300}),
        ({}, {"t": -1e10}),
        ({}, {"t": 1e10}),
        ({}, {"id": "landmark/treble/G4294967296"}),
        ({}, {"id": "step/bass/C-9999"}),
        ({}, {"id": "x" * 10_000}),
        ({}, {"verdict": "none that is known"}),
        ({}, {"why_not": "\x1b[2J", "counted": False}),
        ({}, RUNG),
    ],
    ids=str,
)
@pytest.mark.parametrize("until", [None, NOW], ids=["all", "until now"])
def test_odd_values_of_a_file_are_reviewed(tmp_path, header, line, until):
    path = tmp_path / "2026-10-20T16-00-00_00000001.jsonl"
    lines = [HEADER | header, ANSWER, line if "event" in line else ANSWER | line]
    path.write_text("".join(f"{json.dumps(each)}\n" for each in lines))
    told = all_that_is_told(review_pupil(collect("Fern", (path,), until), NOW))
    assert all(isinstance(words, str) for words in told)
