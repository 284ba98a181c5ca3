"""The review tells on which rung of the ladder a beginner stands, why, and how she came there."""

import json
from datetime import UTC, datetime, timedelta

import pytest

from drills.learning.prior_knowledge.observations import Observations
from drills.reports.parent_sheet import parents_sheet
from drills.reports.pupil_page import pupil_page
from drills.reports.review_tables import json_of
from drills.reports.review_text import pupil_lines
from drills.review.collect import collect
from drills.review.ladder import DAYS_TOLD, parents_sentence, stands_sentence, way_sentence
from drills.review.pupil import review_pupil
from drills.sessions.records import Header, RungReachedRecord
from drills.simulation.pupils.beginner import Beginner
from drills.storage.session_file import SessionWriter
from tests.drills.learning.ladder.beginners import Course

MONDAY = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
DAYS = 4


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A beginner of whom one answer is set down, after some days of practice."""
    beginnings = Observations(pupil="Moth").seen("pulse", "not-yet", MONDAY - timedelta(days=3))
    beginner = Beginner(3, 0.06, shapes=0.5, name=0.05, place=0.2, steps=0.4)
    course = Course(tmp_path_factory.mktemp("studio"), beginnings, beginner)
    told = course.days(MONDAY, DAYS)
    return course, told


def reviewed(course, beginnings=None, day=DAYS):
    now = MONDAY + timedelta(days=day)
    record = collect("Moth", course.pupil.session_files(), now)
    return review_pupil(record, now, beginnings=beginnings or course.beginnings)


def test_it_tells_the_rung_of_the_latest_line_in_the_session_files(course):
    course, told = course
    stands = reviewed(course).ladder.stands
    reached = next(line for line in reversed(told) if line.rung != told[-1].rung)
    first_of_rung = told[told.index(reached) + 1]
    assert (stands.rung, stands.why, stands.by) == (
        told[-1].rung, first_of_rung.why, first_of_rung.by,
    )  # fmt: skip
    assert stands.why in stands_sentence(reviewed(course).ladder)


def test_the_way_there_has_every_move_with_its_date(course):
    course, _ = course
    moves = []
    for path in course.pupil.session_files():
        for line in map(json.loads, path.read_text().splitlines()):
            if line.get("event") == "rung" and (not moves or moves[-1][1] != line["rung"]):
                moves.append((path.name[:10], line["rung"]))
    ladder = reviewed(course).ladder
    assert [(f"{move.at:%Y-%m-%d}", move.rung) for move in ladder.moves] == moves
    assert way_sentence(ladder).startswith("The way there: 2 March: from shapes without a stave")


def test_many_rungs_of_one_day_are_told_by_the_first_and_the_last(course):
    course, _ = course
    ladder = reviewed(course).ladder
    first_day = [move for move in ladder.moves if move.at.date() == MONDAY.date()]
    assert len(first_day) > 3
    told = way_sentence(ladder).partition("; ")[0]
    between = len(first_day) - 2
    assert told.endswith(
        f"2 March: from {first_day[0].title} over {between} more to {first_day[-1].title}"
    )


def test_all_forms_of_the_review_tell_of_it(course):
    course, _ = course
    review = reviewed(course)
    title = review.ladder.stands.title
    assert f"Now practising {title}, since" in " ".join(" ".join(pupil_lines(review)).split())
    assert f"Now practising {title}" in pupil_page(review)
    assert parents_sentence(review.ladder) in parents_sheet(review)
    assert "%" not in parents_sentence(review.ladder)
    (told,) = json.loads(json_of([review]))
    assert told["ladder"]["rung"] == review.ladder.stands.rung
    assert len(told["ladder"]["moves"]) == len(review.ladder.moves)


def test_an_earlier_day_is_told_as_it_was(course):
    course, _ = course
    first_day = reviewed(course, day=0.5).ladder
    assert first_day.stands.at.date() == MONDAY.date()
    assert len(first_day.moves) < len(reviewed(course).ladder.moves)


def test_a_beginner_who_met_no_note_goes_on_with_her_rung(tmp_path):
    course = Course(tmp_path, Observations(pupil="Moth"), Beginner(3, 0.0, shapes=0.5))
    course.days(MONDAY, 3)
    review = reviewed(course, day=2.5)
    assert not any(note.answers for note in review.notes)
    assert review.next_step.startswith(f"Go on with {review.ladder.stands.title}. ")


def test_what_the_teacher_sets_after_the_last_session_is_told_with_its_date(course):
    course, _ = course
    evening = MONDAY + timedelta(days=DAYS - 1, hours=3)
    ladder = reviewed(course, course.beginnings.decided("no-stave", evening)).ladder
    assert (ladder.stands.rung, ladder.stands.by) == ("no-stave", "teacher")
    assert "since 5 March. Set by the teacher on 5 March 2026" in stands_sentence(ladder)
    assert way_sentence(ladder).endswith("shapes without a stave (set by the teacher).")


def test_before_the_first_session_the_answers_say_where_she_begins(notebook):
    notebook.started = MONDAY
    beginnings = Observations(pupil="Fern").seen("reads-for", "recorder", MONDAY)
    record = notebook.record()
    review = review_pupil(record, MONDAY + timedelta(hours=1), beginnings=beginnings)
    assert review.ladder.stands.rung == "keys-by-place"
    assert way_sentence(review.ladder) == ""


def test_a_pupil_without_beginnings_is_on_no_ladder(notebook):
    notebook.session(("landmark/treble/G4", 1.0, True))
    review = notebook.review()
    assert review.ladder is None
    assert "ladder" not in pupil_page(review).partition("</style>")[2]


def test_a_long_way_is_told_by_its_beginning_and_its_latest_days(tmp_path):
    course = Course(tmp_path, Observations(pupil="Moth"), Beginner(3, shapes=0.5))
    begun = course.day(MONDAY, 0)
    stood = [
        RungReachedRecord(t=0.0, rung=rung, before=None, by="teacher", why="So.")
        for rung in ("one-line", "two-lines") * DAYS_TOLD
    ]
    for day, line in enumerate(stood, 1):
        write_session(course, MONDAY + timedelta(days=day), line)
    ladder = reviewed(course, day=30).ladder
    told = way_sentence(ladder)
    assert told.startswith(f"The way there: 2 March: from {ladder.moves[0].title} over")
    assert told.count("set by the teacher") == DAYS_TOLD
    assert "; …; " in told
    assert begun


def write_session(course, at, line):
    writer = SessionWriter(
        course.pupil.sessions_folder,
        Header(
            session=f"{at.day:08x}-0000-4000-8000-000000000000", pupil="Moth", started=at,
            clock_ns=0, program="0", port=None, clock="simulated", set="five", seed=0,
        ),
    )  # fmt: skip
    writer.append(line)
    writer.close()
