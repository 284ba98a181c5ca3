from datetime import timedelta

import pytest

from drills.learning.response import State

G4, F3 = "landmark/treble/G4", "landmark/bass/F3"
KEY = "key/treble/C4"


def test_wrong_answers_are_never_averaged_in(notebook):
    notebook.session((G4, 1.0, True), (G4, 20.0, "step"), (G4, 2.0, True), (G4, 25.0, "step"))
    note = notebook.note(G4)
    assert note.seconds.value == 1.5
    assert note.accuracy.value == 0.5


def test_a_pause_is_left_out_and_counted(notebook):
    notebook.session((G4, 1.0, True), (G4, 45.0, True, "pause"), (G4, 2.0, True))
    note = notebook.note(G4)
    assert note.seconds.value == 1.5
    assert note.left_out == {"pause": 1}
    assert note.answers == 2


def test_reading_time_is_what_remains_without_finding_the_key(notebook):
    notebook.session(*[(KEY, 0.8, True)] * 8, *[(G4, 2.0, True)] * 8)
    note = notebook.note(G4)
    assert note.reading.value == pytest.approx(1.2)
    assert note.reading.low == pytest.approx(1.2)
    assert notebook.review().key_finding.value == 0.8


@pytest.mark.parametrize(
    ("clock", "doubt"), [("driver", 0.0), ("milliseconds", 0.001), ("arrival", 0.02)]
)
def test_an_interval_holds_what_a_coarse_clock_leaves_in_doubt(notebook, clock, doubt):
    notebook.session(*[(KEY, 0.8, True)] * 8, *[(G4, 2.0, True)] * 8, clock=clock)
    note = notebook.note(G4)
    assert note.seconds.value == 2.0
    assert (note.seconds.low, note.seconds.high) == pytest.approx((2.0 - doubt, 2.0 + doubt))
    assert (note.reading.low, note.reading.high) == pytest.approx(
        (1.2 - 2 * doubt, 1.2 + 2 * doubt)
    )


def test_a_coarse_clock_of_a_piano_found_in_mid_session_leaves_its_answers_in_doubt(notebook):
    path = notebook.session(*[(G4, 2.0, True)] * 8, clock="driver")
    header, *answers = path.read_bytes().splitlines(keepends=True)
    found = b'{"event":"piano","t":1.0,"change":"found","port":"Upright","clock":"milliseconds"}\n'
    path.write_bytes(b"".join([header, found, *answers]))
    assert notebook.note(G4).seconds.low == pytest.approx(1.999)


def test_without_key_finding_there_is_no_reading_time(notebook):
    notebook.session(*[(G4, 2.0, True)] * 8)
    assert notebook.note(G4).reading is None


def test_few_answers_carry_no_interval(notebook):
    notebook.session(*[(G4, 2.0, True)] * 5)
    assert notebook.note(G4).seconds.low is None


def test_figures_rest_on_the_latest_ten_answers(notebook):
    notebook.session(*[(G4, 9.0, True)] * 20)
    notebook.session(*[(G4, 1.0, True)] * 10)
    note = notebook.note(G4)
    assert note.seconds.high == 1.0
    assert (note.judged, note.answers) == (10, 30)


def test_the_usual_slip_is_the_key_that_came_most_often(notebook):
    notebook.session((G4, 1.0, 69), (G4, 1.0, 65), (G4, 1.0, 69), (G4, 1.0, True))
    slip = notebook.note(G4).slip
    assert (slip.name, slip.count, slip.wrong) == ("treble A", 2, 3)


def test_a_slip_made_once_is_not_usual(notebook):
    notebook.session((G4, 1.0, 69), (G4, 1.0, 65), (G4, 1.0, True))
    assert notebook.note(G4).slip is None


def test_middle_c_is_a_note_of_each_clef(notebook):
    notebook.session(("landmark/treble/C4", 1.0, True), ("landmark/bass/C4", 3.0, True))
    assert notebook.note("landmark/treble/C4").seconds.value == 1.0
    assert notebook.note("landmark/bass/C4").seconds.value == 3.0


def test_a_note_of_the_piece_is_the_same_note_as_its_landmark(notebook):
    notebook.session((G4, 1.0, True), ("piece/treble/G4", 3.0, True))
    notes = [note for note in notebook.review().notes if str(note.card.target) == "G4"]
    assert [note.card.id for note in notes] == [G4]
    assert notes[0].seconds.value == 2.0


def test_a_note_of_the_piece_beyond_the_set_is_reviewed_too(notebook):
    notebook.session(("piece/treble/F#4", 2.0, True))
    assert notebook.note("piece/treble/F#4").seconds.value == 2.0


def test_notes_not_met_yet_are_told_as_new(notebook):
    notebook.session((G4, 1.0, True))
    note = notebook.note(F3)
    assert note.standing.state is State.NEW
    assert note.last_seen is None


def test_a_steady_quickening_is_told_with_its_pace(notebook):
    for day in range(12):
        notebook.session(*[(G4, 4.0 - 0.2 * day + 0.01 * n, True) for n in range(3)])
    trend = notebook.note(G4).trend
    assert trend.slope == pytest.approx(-1.4)
    assert trend.low <= trend.slope <= trend.high < 0


def test_times_that_go_up_and_down_have_no_trend(notebook):
    for day in range(12):
        notebook.session((G4, 2.0 + (day * 7 % 5) / 10, True))
    assert notebook.note(G4).trend is None


def test_what_changed_is_told_since_the_last_lesson(notebook):
    notebook.session((G4, 1.0, True))
    lesson = notebook.started + timedelta(hours=2)
    notebook.session((F3, 1.0, True), days_later=2)
    changes = notebook.review(since=lesson).changes
    assert [(change.card.id, change.before, change.after) for change in changes] == [
        (F3, State.NEW, State.PENCIL)
    ]


def test_the_last_lesson_was_when_the_last_warm_up_was_played(notebook):
    notebook.session((G4, 1.0, True), use="warm-up")
    lesson = notebook.started
    notebook.session((F3, 1.0, True), days_later=9)
    review = notebook.review(days_later=3)
    assert review.since == lesson
    assert {change.card.id for change in review.changes} == {G4, F3}


def test_the_warm_up_of_this_very_lesson_is_not_the_last_lesson(notebook):
    notebook.session((G4, 1.0, True), use="warm-up")
    lesson = notebook.started
    notebook.session((G4, 1.0, True), days_later=7, use="warm-up")
    assert notebook.review().since == lesson


def test_lessons_without_warm_ups_are_taken_to_be_weekly(notebook):
    notebook.session((G4, 1.0, True), use="warm-up")
    for days in (45, 2):
        notebook.session((G4, 1.0, True), days_later=days)
    review = notebook.review()
    assert review.now - review.since == timedelta(days=7)


def test_there_is_always_a_next_step_with_its_reason(notebook):
    assert "because" in notebook.review().next_step
    notebook.session((G4, 1.0, True), (G4, 1.0, True))
    notebook.session((G4, 1.0, True))
    assert "because" in notebook.review().next_step


def test_a_landmark_that_was_only_read_in_a_piece_is_not_new(notebook):
    notebook.session(("piece/treble/G4", 1.0, True))
    assert notebook.note(G4).standing.state is State.PENCIL


def test_a_note_asked_only_as_a_step_of_an_earlier_set_is_not_told_as_new(notebook):
    for _ in range(3):
        notebook.session(*[("step/bass/C3", 1.2, True)] * 4)
    (note,) = [n for n in notebook.review().notes if n.card.clef.name == "bass" and n.answers]
    assert note.name == "bass C"
    assert note.standing.state is not State.NEW


def test_black_keys_are_named_in_words(notebook):
    notebook.session(("step/treble/F#4", 1.2, True))
    assert "treble F sharp" in [note.name for note in notebook.review().notes]
