"""A pupil looks for notes: touched or played, right or wrong, and what is kept of it."""

import json
from itertools import islice

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.sessions import events
from drills.sessions.device_records import KeyMovedRecord, PianoChangedRecord
from drills.sessions.effects import KeyMoved, RememberPiano
from drills.sessions.line_records import LineShownRecord, ValueAnsweredRecord, ValueAskedRecord
from drills.sessions.piano_state import MIDDLE_C_CARD
from drills.sessions.records import AnsweredRecord, CardAskedRecord, EndedRecord
from drills.sessions.spotting.pages import Page, invented_pages
from drills.sessions.spotting.question import parse_question, wanted_in
from drills.sessions.spotting.spotting import MISSES_BEFORE_POINTING, Spotting
from drills.sessions.timed_session import LONG_STANDSTILL_MS
from drills.sessions.view import Phase
from landmarks.line import line_of
from landmarks.sets import built_in_sets
from tests.musicxml import attributes, backup, note, score
from tests.scripted_drill import records_of
from tests.session_schema import part

FIVE = built_in_sets()["five"]
G, A, B, LOW_G, LOW_B = 67, 69, 71, 55, 59
LINE = line_of(
    score(
        attributes(clefs=("G2", "F4"))
        + note("G4", 1, "quarter") + note("A4", 1, "quarter") + note("G4", 1, "quarter")
        + note("B4", 1, "quarter") + backup(4) + note("B2", 4, "whole", staff=2),
        note("G4", 2, "half") + note("G#4", 2, "half")
        + backup(4) + note("G3", 4, "whole", staff=2),
    ),
    "written here",
)  # fmt: skip
# In reading order: G4, B2 (at one moment), A4, G4, B4, G4, G3 (at one moment), G#4.
FIRST_G, BASS_B, AN_A, SECOND_G, A_B, THIRD_G, BASS_G, G_SHARP = range(8)


class Looking:
    """A spotting session played by hand, its first question on the screen at 0."""

    def __init__(self, *asked, line=LINE, minutes=10, pages=None):
        questions = tuple(parse_question(text) for text in asked or ("treble G",))
        pages = iter(pages or [Page(line, questions)])
        self.spotting, self.t, self.effects = Spotting(pages, minutes), 0.0, []
        self.feed(events.Begin())
        self.look()

    def feed(self, event):
        self.effects += self.spotting.handle(event, self.t)

    def look(self):
        self.feed(events.OnScreen(self.view.showing))

    def touch(self, number, after=1000):
        self.t += after
        self.feed(events.NoteTouched(number))

    def play(self, *keys, after=1000):
        self.t += after
        for key in keys:
            self.feed(events.KeyPressed(key))
        self.t += 100
        self.feed(events.TimePassed())
        for key in keys:
            self.feed(events.KeyReleased(key))

    def go_on(self):
        self.t += 3000
        self.feed(events.TimePassed())
        self.look()

    @property
    def view(self):
        return self.spotting.view

    def of(self, kind):
        return [each for each in (*self.records, *self.effects) if isinstance(each, kind)]

    @property
    def records(self):
        return records_of(self.effects)


def test_the_line_and_the_question_are_written_when_they_are_on_the_screen():
    looking = Looking()
    line, card = looking.records
    assert line == LineShownRecord(
        t=0.0, source="written here",
        notes=("treble/G4/quarter", "bass/B2/whole", "treble/A4/quarter", "treble/G4/quarter",
               "treble/B4/quarter", "treble/G4/half", "bass/G3/whole", "treble/G#4/half"),
    )  # fmt: skip
    assert (card.id, card.kind, card.name) == ("piece/treble/G4", "piece", "treble G")


def test_touching_every_treble_g_finds_them_in_any_order():
    looking = Looking()
    for number in (SECOND_G, FIRST_G, THIRD_G):
        assert looking.view.phase is Phase.ASKED
        looking.touch(number)
    assert looking.view.phase is Phase.RIGHT
    assert looking.view.found == {FIRST_G, SECOND_G, THIRD_G}
    answers = looking.of(AnsweredRecord)
    assert [(a.verdict, a.note, a.why_not) for a in answers] == [
        ("exact", SECOND_G, "touched"), ("exact", FIRST_G, "touched"), ("exact", THIRD_G, "touched")
    ]  # fmt: skip


def test_each_find_is_timed_from_the_one_before_as_a_card_of_its_own():
    """Format: `ms` counts from the card's `t`."""
    looking = Looking()
    looking.touch(FIRST_G, after=1200)
    looking.touch(AN_A, after=500)
    looking.touch(SECOND_G, after=300)
    cards, answers = looking.of(CardAskedRecord), looking.of(AnsweredRecord)
    assert [card.t for card in cards] == [0, 1200, 2000]
    assert [(a.ms, a.attempt) for a in answers] == [(1200, 1), (500, 1), (800, 2)]


def test_playing_the_key_marks_the_next_one_from_left_to_right():
    looking = Looking()
    looking.touch(SECOND_G)
    looking.play(G)
    assert looking.view.found == {FIRST_G, SECOND_G}
    looking.play(G)
    assert looking.view.phase is Phase.RIGHT
    assert [a.why_not for a in looking.of(AnsweredRecord)] == ["touched", "named", "named"]
    assert [a.note for a in looking.of(AnsweredRecord)] == [SECOND_G, FIRST_G, THIRD_G]


@pytest.mark.parametrize(
    ("number", "verdict", "steps"),
    [(AN_A, "step", 1), (A_B, "skip", 2), (BASS_B, "clef", -12), (BASS_G, "octave", -7),
     (G_SHARP, "half-step", 0)],
)  # fmt: skip
def test_a_wrong_note_is_told_with_its_distance(number, verdict, steps):
    looking = Looking()
    looking.touch(number)
    view = looking.view
    assert (view.touched, view.answer.verdict, view.answer.steps) == (number, verdict, steps)
    assert view.answer.played == LINE.notes[number].pitch
    assert not view.found
    (answer,) = looking.of(AnsweredRecord)
    assert (answer.verdict, answer.played) == (verdict, LINE.notes[number].pitch.midi)


def test_a_wrong_key_marks_nothing_and_is_told():
    looking = Looking()
    looking.play(A)
    assert looking.view.touched is None
    assert (looking.view.answer.verdict, looking.view.answer.steps) == ("step", 1)
    assert not looking.view.found


def test_a_brushed_neighbour_does_not_spoil_a_find_and_a_fistful_finds_nothing():
    looking = Looking()
    looking.play(G, 66)
    assert looking.view.found == {FIRST_G}
    looking.play(G, A, B)
    assert looking.view.found == {FIRST_G}
    assert [a.why_not for a in looking.of(AnsweredRecord)] == ["brushed", "named", "cluster"]


def test_after_three_wrong_notes_the_next_right_one_is_pointed_at():
    looking = Looking()
    for _ in range(MISSES_BEFORE_POINTING):
        assert looking.view.pointed is None
        looking.touch(AN_A)
    assert looking.view.pointed == FIRST_G
    looking.touch(FIRST_G)
    assert looking.view.pointed is None
    assert looking.of(AnsweredRecord)[-1].why_not == "pointed at"


def test_the_teacher_can_have_it_pointed_at():
    looking = Looking()
    looking.touch(FIRST_G)
    looking.feed(events.Hint())
    assert looking.view.pointed == SECOND_G


def test_a_note_found_already_is_no_mistake():
    looking = Looking()
    looking.touch(FIRST_G)
    before = list(looking.records)
    looking.touch(FIRST_G)
    assert looking.records == before


def test_note_values_are_touched_and_a_key_says_nothing_of_them():
    looking = Looking("minim")
    looking.play(G)
    looking.touch(FIRST_G)
    looking.touch(THIRD_G)
    looking.touch(G_SHARP)
    assert looking.view.phase is Phase.RIGHT
    assert not looking.of(AnsweredRecord)
    assert [(a.note, a.touched, a.right, a.attempt) for a in looking.of(ValueAnsweredRecord)] == [
        (FIRST_G, "quarter", False, 1), (THIRD_G, "half", True, 2), (G_SHARP, "half", True, 1)
    ]  # fmt: skip
    assert [(a.value, a.name) for a in looking.of(ValueAskedRecord)] == [("half", "minim")] * 2


def test_two_voices_on_one_place_are_found_together():
    line = line_of(
        score(
            attributes() + note("G4", 4, "whole") + backup(4)
            + note("G4", 2, "half", voice=2) + note("G4", 2, "half", voice=2)
        ),
        "here",
    )  # fmt: skip
    looking = Looking(line=line)
    looking.touch(0)
    assert looking.view.found == {0, 1}
    looking.touch(2)
    assert looking.view.phase is Phase.RIGHT


def test_when_all_are_found_the_next_thing_is_asked_of_the_same_line():
    looking = Looking("A4", "minim")
    looking.touch(AN_A)
    assert looking.view.phase is Phase.RIGHT
    looking.go_on()
    assert looking.view.question.name == "minim"
    assert looking.view.line is LINE
    assert len(looking.of(LineShownRecord)) == 1


def test_a_session_goes_on_to_its_time_and_ends_after_a_find():
    pages = invented_pages(FIVE, [parse_question("treble G")], 1)
    looking = Looking(pages=pages, minutes=1)
    while looking.view.phase is not Phase.FINISHED:
        looking.touch(looking.view.next_wanted, after=4000)
        if looking.view.phase is Phase.RIGHT:
            looking.go_on()
    assert looking.of(EndedRecord)[-1].why == "done"
    assert 60_000 <= looking.t < 120_000
    assert looking.view.tally[0][1] == len(looking.of(AnsweredRecord))


def test_a_score_that_is_at_its_end_ends_the_session():
    looking = Looking()
    for number in (FIRST_G, SECOND_G, THIRD_G):
        looking.touch(number)
    looking.go_on()
    assert looking.view.phase is Phase.FINISHED
    assert looking.of(EndedRecord)[0].why == "done"


def test_nothing_counts_before_the_question_is_on_the_screen():
    spotting = Spotting(iter([Page(LINE, (parse_question("treble G"),))]), 1)
    spotting.handle(events.Begin(), 0)
    assert spotting.handle(events.NoteTouched(FIRST_G), 5) == []
    assert [type(e) for e in spotting.handle(events.KeyPressed(G), 6)] == [KeyMoved]
    assert not spotting.view.found


def test_a_computer_that_slept_for_long_ends_the_session_as_in_practice():
    looking = Looking()
    looking.feed(events.StoodStill(LONG_STANDSTILL_MS))
    assert looking.view.phase is Phase.ASKED
    looking.feed(events.StoodStill(LONG_STANDSTILL_MS + 1))
    assert looking.view.phase is Phase.FINISHED
    assert [record.why for record in looking.of(EndedRecord)] == ["stood still"]


def test_a_piano_that_sounds_higher_is_put_right():
    looking = Looking()
    looking.feed(events.PianoFound("Stage piano", "driver", 2))
    looking.play(G + 2)
    assert looking.view.found == {FIRST_G}
    assert looking.of(KeyMovedRecord)[0].key == G + 2
    looking.feed(events.PianoLost("Stage piano"))
    assert [r.change for r in looking.records if hasattr(r, "change")] == ["found", "lost"]


moves = st.lists(
    st.one_of(
        st.tuples(st.just("touch"), st.integers(0, 30)),
        st.tuples(st.just("key"), st.integers(40, 80)),
        st.tuples(st.just("wait"), st.integers(0, 5000)),
        st.tuples(st.just("hint"), st.just(0)),
        st.tuples(st.just("look"), st.just(0)),
    ),
    max_size=60,
)


def play(seed, moves):
    asked = [parse_question(text) for text in ("treble G", "bass F", "crotchet")]
    looking = Looking(pages=islice(invented_pages(FIVE, asked, seed, True), 5), minutes=1)
    for what, number in moves:
        looking.t += 20
        match what:
            case "touch":
                looking.feed(events.NoteTouched(number % len(looking.view.line.notes)))
            case "key":
                looking.feed(events.KeyPressed(number))
            case "wait":
                looking.t += number
                looking.feed(events.TimePassed())
            case "hint":
                looking.feed(events.Hint())
            case "look":
                looking.look()
        view = looking.view
        assert view.found <= set(view.wanted)
        assert view.wanted == wanted_in(view.line, view.question)
        assert (view.phase is Phase.RIGHT) <= (view.next_wanted is None)
    looking.feed(events.Stop())
    return looking


@given(st.integers(0, 50), moves)
@settings(max_examples=60)
def test_whatever_is_touched_and_played_every_line_keeps_to_the_schema_and_none_counts(seed, moves):
    looking = play(seed, moves)
    event = part("event")
    for record in looking.records:
        event.validate(json.loads(msgspec.json.encode(record)))
    assert not any(answer.counted for answer in looking.of(AnsweredRecord))
    assert all(answer.why_not for answer in looking.of(AnsweredRecord))
    assert isinstance(looking.records[-1], EndedRecord)


@given(st.integers(0, 20), moves)
@settings(max_examples=25)
def test_the_same_events_give_the_same_session(seed, moves):
    assert play(seed, moves).records == play(seed, moves).records


class Unknown(Looking):
    """A session that hears of a piano it does not know while the first question is asked."""

    def __init__(self, *asked, **options):
        super().__init__(*asked, **options)
        self.feed(events.PianoFound("Stage piano", "driver"))
        self.look()


def test_an_unknown_piano_is_asked_for_middle_c_before_anything_is_looked_for():
    session = Unknown()
    assert session.view.tuning
    assert session.of(CardAskedRecord)[-1].id == MIDDLE_C_CARD.id
    session.touch(FIRST_G)
    assert not session.view.found
    session.play(60)
    (answer,) = session.of(AnsweredRecord)
    assert (answer.id, answer.verdict, answer.why_not) == (MIDDLE_C_CARD.id, "exact", "tuning")
    assert session.of(RememberPiano) == [RememberPiano("Stage piano", 0)]
    session.go_on()
    assert not session.view.tuning
    assert session.of(CardAskedRecord)[-1].id == "piece/treble/G4"


def test_a_piano_an_octave_higher_is_put_right_for_the_notes_that_follow():
    session = Unknown()
    session.play(72)
    assert session.view.tuning_again
    session.play(72)
    assert session.of(RememberPiano) == [RememberPiano("Stage piano", 12)]
    assert [r.change for r in session.of(PianoChangedRecord)] == ["found", "tuned"]
    session.go_on()
    session.play(G + 12)
    assert session.view.found == {FIRST_G}
    assert session.of(AnsweredRecord)[-1].played == G


def test_what_was_found_before_the_piano_came_stays_found():
    session = Looking()
    session.touch(FIRST_G)
    session.feed(events.PianoFound("Stage piano", "driver"))
    session.look()
    session.play(60)
    session.go_on()
    assert session.view.found == {FIRST_G}
    assert session.view.phase is Phase.ASKED


def test_a_piano_that_is_known_is_not_asked():
    session = Looking()
    session.feed(events.PianoFound("Stage piano", "driver", shift=-12))
    assert not session.view.tuning
    session.play(G - 12)
    assert session.view.found == {FIRST_G}


def test_a_piano_that_goes_again_leaves_the_line_to_be_touched():
    session = Unknown()
    session.feed(events.PianoLost("Stage piano"))
    session.look()
    assert not session.view.tuning
    session.touch(FIRST_G)
    assert session.view.found == {FIRST_G}


def test_a_piano_that_was_there_from_the_beginning_is_asked_first():
    spotting = Spotting(iter([Page(LINE, (parse_question("treble G"),))]), 10)
    spotting.handle(events.PianoFound("Stage piano", "driver"), 0)
    spotting.handle(events.Begin(), 0)
    assert spotting.view.tuning


def test_a_fist_tells_nothing_of_a_piano():
    session = Unknown()
    session.play(60, 61, 62)
    assert session.view.tuning_again
    assert session.of(AnsweredRecord)[-1].verdict == "cluster"
    assert not session.of(RememberPiano)
