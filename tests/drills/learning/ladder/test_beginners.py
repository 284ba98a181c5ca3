"""Three invented beginners start in different places and reach the stave by different ways."""

from collections import Counter
from datetime import UTC, datetime, timedelta
from itertools import groupby

import pytest

from drills.cards.card import Kind
from drills.learning.ladder.chooser import IN_A_ROW, TIMES_A_DAY, LadderChooser
from drills.learning.ladder.rung import rung_named
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.simulation.pupils.beginner import Beginner
from tests.drills.learning.ladder.beginners import CARDS, Course
from tests.session_schema import hold

MONDAY = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
BEFORE = MONDAY - timedelta(days=3)
DAYS = 6


def brings(pupil, **answers):
    beginnings = Observations(pupil=pupil)
    for question, answer in answers.items():
        beginnings = beginnings.seen(question.replace("_", "-"), answer, BEFORE)
    return beginnings


PIPER = (
    brings("Piper", reads_for="recorder", key_names="yes", black_keys="yes", pulse="yes"),
    Beginner(1, shapes=0.95, name=0.97, place=0.97, treble=0.93, bass=0.1, steps=0.8),
)
LARK = (
    brings("Lark", higher_lower="yes", pulse="yes", clap_back="yes", follows_line="yes",
           note_names="sol-fa", black_keys="not-yet", key_names="not-yet", reads_for="none"),
    Beginner(2, shapes=0.93, name=0.1, place=0.25, treble=0.1, bass=0.1, steps=0.6),
)  # fmt: skip
MOTH = (brings("Moth"), Beginner(3, 0.06, shapes=0.5, name=0.05, place=0.2, steps=0.4))


@pytest.fixture(scope="module")
def courses(tmp_path_factory):
    """The three beginners after some days: their courses and all that was told of the ladder."""
    folder = tmp_path_factory.mktemp("studio")
    found = {}
    for beginnings, beginner in (PIPER, LARK, MOTH):
        course = Course(folder, beginnings, beginner)
        found[beginnings.pupil] = course, course.days(MONDAY, DAYS)
    return found


def way(told):
    """The rungs in the order in which they were stood on, each once."""
    return list(dict.fromkeys(line.rung for line in told))


def test_they_start_in_different_places_and_the_log_says_why(courses):
    firsts = {name: told[0] for name, (_, told) in courses.items()}
    assert {name: line.rung for name, line in firsts.items()} == {
        "Piper": "bass-landmarks", "Lark": "five-lines", "Moth": "no-stave",
    }  # fmt: skip
    assert all((line.by, line.before) == ("beginnings", None) for line in firsts.values())
    assert firsts["Piper"].why == (
        "Reads treble from the recorder, finds her way by the black keys and plays a key that is "
        "named: begin with bass landmarks."
    )
    assert firsts["Lark"].why.startswith("Moves up and down with what she hears and goes along")
    assert firsts["Moth"].why.startswith("She begins at the beginning")


def test_they_reach_the_stave_by_different_ways(courses):
    ways = {name: way(told) for name, (_, told) in courses.items()}
    assert not {"keys-by-place", "treble-landmarks", "one-line"} & set(ways["Piper"])
    assert ways["Lark"][:4] == ["five-lines", "keys-by-place", "keys-by-name", "treble-landmarks"]
    assert ways["Moth"][:7] == [
        "no-stave", "one-line", "two-lines", "five-lines", "keys-by-place", "keys-by-name",
        "treble-landmarks",
    ]  # fmt: skip
    assert "mixed-clefs" in ways["Piper"]


def test_every_move_says_how_many_answers_it_rests_on(courses):
    moves = [line for _, told in courses.values() for line in told if line.by == "answers"]
    assert moves
    for move in moves:
        assert " of the last " in move.why
        assert "% likely to " in move.why


def test_the_log_is_a_session_file_like_any_other(courses):
    for course, _ in courses.values():
        for path in course.pupil.session_files():
            lines = hold(path)
            assert lines[1]["event"] == "rung"


def test_what_they_bring_makes_longer_and_freer_lines_of_shapes(courses):
    def lines(name):
        path = courses[name][0].pupil.session_files()[0]
        shown = (line for line in hold(path) if line.get("kind") == "contour")
        return [line["id"].rpartition("/")[2].split(",") for line in shown]

    assert {len(moves) for moves in lines("Lark")} == {7}
    assert {len(moves) for moves in lines("Moth")} == {4}
    assert any("skip" in move for moves in lines("Lark") for move in moves)
    assert not any("skip" in move for moves in lines("Moth") for move in moves)


def test_a_claim_that_does_not_hold_is_overturned_in_the_first_session(tmp_path):
    boasts = brings("Jay", key_names="yes", reads_for="harp")
    course = Course(tmp_path, boasts, Beginner(4, 0.02, shapes=0.9, name=0.02, place=0.02))
    told = course.day(MONDAY, 4)
    assert told[0].rung == "mixed-clefs"
    down = next(line for line in told if line.before is not None)
    assert down.rung == "keys-by-place"
    assert down.why.startswith("Plays a key that is named, it was said, but here 0 of the last 2")


def test_the_teacher_sets_a_rung_and_the_log_says_so(tmp_path):
    beginnings, beginner = MOTH
    course = Course(tmp_path, beginnings.decided("treble-landmarks", BEFORE), beginner)
    told = course.day(MONDAY, 0)
    assert (told[0].rung, told[0].by) == ("treble-landmarks", "teacher")
    assert told[0].why == "Set by the teacher on 27 February 2026: treble landmarks."


def test_an_earlier_session_is_told_in_the_next_ones_first_line(courses):
    _, told = courses["Moth"]
    starts = [place for place, line in enumerate(told) if line.before is None]
    for place in starts[1:]:
        if told[place].rung == told[place - 1].rung:
            assert told[place].why == told[place - 1].why


@pytest.mark.parametrize("name", ["Piper", "Lark", "Moth"])
def test_a_session_lasts_no_longer_than_its_minutes_and_ends_on_a_success(courses, name):
    course, _ = courses[name]
    for path in course.pupil.session_files():
        lines = hold(path)
        assert lines[-1]["event"] == "end"
        assert lines[-1]["t"] < 7.5 * 60_000


def slow_session(tmp_path, beginnings):
    """The cards of a session in which a slow learner stays with three treble landmarks."""
    player = Beginner(5, 0.002, shapes=1, name=1, place=1, treble=0.2, bass=0.9)
    course = Course(tmp_path, beginnings, player)
    told = course.day(MONDAY, 0)
    assert way(told) == ["treble-landmarks"]
    return [line for line in hold(course.pupil.session_files()[0]) if line.get("event") == "card"]


def test_three_landmarks_that_are_not_learnt_today_are_left_for_another_day(tmp_path):
    cards = slow_session(tmp_path, brings("Newt").decided("treble-landmarks", BEFORE))
    notes = Counter(card["id"] for card in cards if card["kind"] == "landmark")
    assert len(notes) == 3
    assert sum(notes.values()) <= TIMES_A_DAY * len(notes)
    assert cards[-1]["t"] < 6 * 60_000


def test_between_notes_a_line_of_shapes_or_a_key_comes_from_below(tmp_path):
    cards = slow_session(tmp_path, brings("Newt").decided("treble-landmarks", BEFORE))
    asked = [card for card in cards if not card.get("move")]
    kinds = [kind for kind, _ in groupby(card["kind"] for card in asked)]
    rows = [len(list(row)) for kind, row in groupby(card["kind"] for card in asked)]
    notes = [length for kind, length in zip(kinds, rows, strict=True) if kind == "landmark"]
    assert max(notes) <= IN_A_ROW
    assert {"contour", "key"} <= set(kinds[1:])
    named = [card["id"] for card in asked if card["kind"] == "key" and "name" in card["id"]]
    shapes = [card["id"] for card in asked if card["kind"] == "contour"]
    assert named and all("five-lines" in card for card in shapes)


def test_what_is_brought_is_not_asked_between(tmp_path):
    reads = brings("Piper", reads_for="cello", key_names="yes")
    cards = slow_session(tmp_path, reads.decided("treble-landmarks", BEFORE))
    first_note = next(n for n, card in enumerate(cards) if card["kind"] == "landmark")
    later = [card for card in cards[first_note:] if card["id"].count("/") > 2]
    assert not [card for card in later if card["kind"] in ("contour", "key")]


def test_a_pupil_on_the_ladder_is_asked_what_her_rung_asks_for():
    beginnings, _ = MOTH

    chooser = LadderChooser(CARDS, prior_knowledge_of(beginnings), seed=1)
    card = chooser.next(MONDAY)
    assert (card.kind, card.contour.lines) == (Kind.CONTOUR, 0)
    assert chooser.stands == rung_named("no-stave", (chooser.stands,))
