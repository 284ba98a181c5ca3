"""A pupil reads a line at the piano: what goes to ink, what a wrong key says, what is kept."""

import json
from itertools import pairwise

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.sessions import events
from drills.sessions.effects import LineShown, RememberPiano
from drills.sessions.piano_state import MIDDLE_C_CARD
from drills.sessions.reading.effects import LineAnswered, LineFinished, NoteRead, WrongKeyInLine
from drills.sessions.reading.reading import Reading
from drills.sessions.timed_session import LONG_STANDSTILL_MS
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from landmarks.line import line_of
from tests.musicxml import attributes, backup, note, score
from tests.scripted_drill import records_of
from tests.session_schema import part

QUARTER_MS = 800.0
MELODY = ["G4", "A4", "B4", "G4", "E4", "F4", "G4", "C5", "B4", "A4", "F4", "G4"]


def melody(names, value=("quarter", 1)):
    """One line of notes of one value in the treble, four quarters a bar."""
    type_, length = value
    bars = [names[start : start + 4] for start in range(0, len(names), 4)]
    return line_of(
        score(*(
            (attributes(clefs=("G2",)) if not number else "")
            + "".join(note(name, length, type_) for name in bar)
            for number, bar in enumerate(bars)
        )),
        "written here",
    )  # fmt: skip


LINE = melody(MELODY)
TWO_HANDS = line_of(
    score(
        attributes(clefs=("G2", "F4"))
        + "".join(note(name, 1, "quarter") for name in ("G4", "A4", "B4", "C5"))
        + backup(4) + note("C3", 2, "half", staff=2) + note("F3", 2, "half", staff=2),
    ),
    "two hands",
)  # fmt: skip


def key_of(line, number):
    return line.notes[number].pitch.midi


class Pupil:
    """A reading session played by hand, its first line on the screen at 0."""

    def __init__(self, *lines, hands="both", minutes=10):
        self.reading = Reading(iter(lines or (LINE,)), hands, minutes)
        self.t, self.effects = 0.0, []
        self.feed(events.Begin())
        self.look()

    def feed(self, event):
        self.effects += self.reading.handle(event, self.t)

    def look(self):
        self.feed(events.OnScreen(self.view.showing))

    def press(self, *keys, after=QUARTER_MS):
        self.t += after
        for key in keys:
            self.feed(events.KeyPressed(key))
            self.feed(events.KeyReleased(key))

    def play(self, *numbers, after=QUARTER_MS):
        """Play notes of the line by their numbers, one after the other."""
        for number in numbers:
            self.press(key_of(self.view.line, number), after=after)

    def wait(self, ms):
        self.t += ms
        self.feed(events.TimePassed())

    @property
    def view(self):
        return self.reading.view

    def of(self, kind):
        return [each for each in self.effects if isinstance(each, kind)]


def test_the_line_is_told_with_its_hands_when_it_is_on_the_screen():
    pupil = Pupil(TWO_HANDS, hands="left")
    (shown,) = pupil.of(LineShown)
    assert (shown.t, shown.line.source, shown.hands) == (0.0, "two hands", "left")


def test_each_note_goes_to_ink_as_it_is_played():
    pupil = Pupil()
    for number in range(len(LINE.notes) - 1):
        pupil.play(number)
        assert pupil.view.read == frozenset(range(number + 1))
        assert pupil.view.at == (number,)
        assert pupil.view.phase is Phase.ASKED
    assert [(each.number, each.way) for each in pupil.of(NoteRead)] == [
        (number, "on") for number in range(len(LINE.notes) - 1)
    ]


def test_the_last_note_ends_the_line_and_the_page_stays():
    pupil = Pupil(LINE, LINE)
    pupil.play(*range(len(LINE.notes)))
    assert pupil.view.phase is Phase.RIGHT
    assert [each.why for each in pupil.of(LineFinished)] == ["played"]
    showing = pupil.view.showing
    pupil.wait(300_000)
    assert (pupil.view.showing, pupil.view.phase) == (showing, Phase.RIGHT)
    pupil.feed(events.Skip())
    assert (pupil.view.showing, pupil.view.phase) == (showing + 1, Phase.ASKED)


def test_going_on_is_her_choice_also_in_the_middle_of_a_line():
    pupil = Pupil(LINE, TWO_HANDS)
    pupil.play(0, 1)
    pupil.feed(events.Skip())
    assert [each.why for each in pupil.of(LineFinished)] == ["left"]
    assert pupil.view.line == TWO_HANDS
    assert [each.number for each in pupil.of(LineAnswered)] == [0, 1]


def test_a_line_may_be_read_once_more():
    pupil = Pupil()
    pupil.play(*range(len(LINE.notes)))
    pupil.feed(events.AskAgain())
    pupil.look()
    assert (pupil.view.line, pupil.view.read, pupil.view.phase) == (LINE, frozenset(), Phase.ASKED)
    assert len(pupil.of(LineShown)) == 2


@pytest.mark.parametrize(
    ("key", "verdict", "steps"),
    [
        (62, "step", -1),
        (60, "skip", -2),
        (76, "octave", 7),
        (63, "half-step", 0),
        (43, "clef", -12),
    ],
)
def test_a_wrong_key_is_shown_where_it_lives_against_the_note_expected(key, verdict, steps):
    pupil = Pupil()
    pupil.play(0, 1, 2, 3)
    pupil.press(key)
    wrong = pupil.view.wrong
    assert (wrong.number, wrong.answer.verdict, wrong.answer.steps) == (4, verdict, steps)
    pupil.wait(100)
    (told,) = pupil.of(WrongKeyInLine)
    assert (told.number, told.verdict, told.played, told.steps) == (4, verdict, key, steps)
    pupil.play(4)
    assert pupil.view.wrong is None


def test_a_brushed_neighbour_is_told_and_is_no_mistake():
    for keys in ((62, 64), (64, 62)):
        pupil = Pupil()
        pupil.play(0, 1, 2, 3)
        pupil.press(*keys)
        pupil.wait(100)
        assert [each.verdict for each in pupil.of(WrongKeyInLine)] == [Verdict.BRUSHED]
        assert pupil.view.wrong is None
        pupil.play(*range(5, len(LINE.notes)))
        assert all(each.verdict is Verdict.EXACT for each in pupil.of(LineAnswered))


def test_a_note_that_was_missed_first_counts_as_missed_and_the_others_as_read():
    pupil = Pupil()
    pupil.play(0, 1, 2, 3)
    pupil.press(62)
    pupil.play(*range(4, len(LINE.notes)))
    answers = {each.number: each for each in pupil.of(LineAnswered)}
    assert sorted(answers) == list(range(len(LINE.notes)))
    assert (answers[4].verdict, answers[4].played) == (Verdict.STEP, 62)
    assert all(each.verdict is Verdict.EXACT for number, each in answers.items() if number != 4)
    assert answers[3].card.id == "piece/treble/G4"


def test_a_later_note_played_for_one_that_is_then_played_counts_as_missing_it():
    pupil = Pupil()
    pupil.play(0, 1, 2, 3, 5)
    pupil.play(*range(4, len(LINE.notes)))
    answers = {each.number: each for each in pupil.of(LineAnswered)}
    assert (answers[4].verdict, answers[4].played) == (Verdict.STEP, 65)
    assert answers[5].verdict is Verdict.EXACT


def test_one_hand_reads_its_own_stave_only():
    left = Pupil(TWO_HANDS, hands="left")
    assert [TWO_HANDS.notes[number].clef.name for number in left.view.to_read] == ["bass"] * 2
    right = Pupil(TWO_HANDS, hands="right")
    assert [TWO_HANDS.notes[number].clef.name for number in right.view.to_read] == ["treble"] * 4


def test_a_note_that_a_tie_holds_is_not_read_anew():
    begin, end = (f'<tie type="{which}"/><voice>' for which in ("start", "stop"))
    tied = line_of(
        score(
            attributes(clefs=("G2",)) + note("G4", 3, "half", dots=1)
            + note("A4", 1, "quarter").replace("<voice>", begin),
            note("A4", 2, "half").replace("<voice>", end) + note("B4", 2, "half"),
        ),
        "tied",
    )  # fmt: skip
    assert [note.is_held for note in tied.notes] == [False, False, True, False]
    assert Pupil(tied).view.to_read == (0, 1, 3)


def test_both_hands_play_a_moment_together():
    pupil = Pupil(TWO_HANDS)
    numbers = {(note.clef.name, str(note.pitch)): n for n, note in enumerate(TWO_HANDS.notes)}
    pupil.press(67, 48)
    assert pupil.view.read == {numbers["treble", "G4"], numbers["bass", "C3"]}
    assert [each.way for each in pupil.of(NoteRead)] == ["on", "on"]


def test_a_return_and_notes_left_out_are_told_as_such():
    pupil = Pupil()
    pupil.play(0, 1, 2, 3, 4)
    pupil.play(*range(len(LINE.notes)))
    ways = [each.way for each in pupil.of(NoteRead)]
    assert ways.count("back") == 1
    assert pupil.view.phase is Phase.RIGHT
    assert not pupil.view.hesitations


def test_an_unknown_piano_is_asked_for_middle_c_in_the_place_of_the_line():
    pupil = Pupil()
    pupil.play(0, 1)
    pupil.feed(events.PianoFound("Stage piano", "driver"))
    assert pupil.view.tuning
    pupil.look()
    pupil.press(72)
    pupil.wait(100)
    pupil.press(72)
    pupil.wait(2000)
    assert pupil.of(RememberPiano) == [RememberPiano("Stage piano", 12)]
    assert (pupil.view.tuning, pupil.view.read) == (False, {0, 1})
    pupil.look()
    pupil.press(key_of(LINE, 2) + 12)
    assert pupil.view.read == {0, 1, 2}
    assert MIDDLE_C_CARD.id not in {each.card.id for each in pupil.of(LineAnswered)}
    assert len(pupil.of(LineShown)) == 1


def test_a_computer_that_slept_for_long_ends_the_session_and_keeps_what_was_read():
    pupil = Pupil()
    pupil.play(0, 1, 2)
    pupil.feed(events.StoodStill(LONG_STANDSTILL_MS + 1))
    assert pupil.view.phase is Phase.FINISHED
    assert [each.number for each in pupil.of(LineAnswered)] == [0, 1, 2]


def test_the_session_ends_with_the_first_line_that_is_left_after_its_minutes():
    pupil = Pupil(LINE, LINE, LINE, minutes=1)
    pupil.feed(events.Skip())
    assert pupil.view.phase is Phase.ASKED
    pupil.t += 60_000
    pupil.feed(events.Skip())
    assert pupil.view.phase is Phase.FINISHED


tempi = st.floats(250, 2500)
"""Milliseconds a quarter: from a quick 240 a minute to a beginner's 24."""
lengths = st.lists(st.sampled_from([0.5, 1.0, 1.0, 2.0, 3.0]), min_size=10, max_size=20)


TYPES = {0.5: "eighth", 1.0: "quarter", 2.0: "half", 3.0: "half"}


def read_at(tempo, lengths, drift=0.0, late=None):
    """Read a line of such written lengths, evenly; `late` is a note and how much later it comes."""
    names = [MELODY[n % len(MELODY)] for n in range(len(lengths) + 1)]
    written = "".join(
        note(name, length, TYPES[length], dots=length == 3)
        for name, length in zip(names, [*lengths, 1.0], strict=True)
    )
    line = line_of(score(attributes(clefs=("G2",)) + written), "lengths")
    pupil = Pupil(line)
    for number in range(len(names)):
        length = lengths[number - 1] if number else 1.0
        share = number / len(names)
        beyond = late[1] if late and late[0] == number else 0.0
        pupil.play(number, after=length * tempo * (1 + drift * share) + beyond)
    return pupil


@given(tempi, lengths, st.floats(-0.3, 0.3))
@settings(max_examples=60, deadline=None)
def test_an_even_reading_shows_no_hesitation_at_any_tempo_even_if_it_rises_or_falls(
    tempo, lengths, drift
):
    pupil = read_at(tempo, lengths, drift)
    assert pupil.view.phase is Phase.RIGHT
    assert pupil.view.hesitations == ()


@given(tempi, lengths, st.data())
@settings(max_examples=60, deadline=None)
def test_a_hesitation_is_found_at_its_note_and_nowhere_else(tempo, lengths, data):
    number = data.draw(st.integers(2, len(lengths) - 1))
    beyond = 2 * tempo * lengths[number - 1]
    pupil = read_at(tempo, lengths, late=(number, beyond))
    ((found, hesitation),) = pupil.view.hesitations
    assert found == number
    assert hesitation.low <= beyond <= hesitation.high
    answers = {each.number: each.hesitation for each in pupil.of(LineAnswered)}
    assert answers[number] == hesitation


@given(st.integers(1, 10), st.integers(0, 10), tempi)
@settings(max_examples=40, deadline=None)
def test_slips_and_a_restart_invent_no_hesitation(slip_at, restart_at, tempo):
    pupil = Pupil()
    for number in range(len(LINE.notes)):
        if number == slip_at:
            pupil.press(key_of(LINE, number) + 3, after=tempo)
        pupil.play(number, after=tempo)
        if number == restart_at:
            pupil.play(*range(number + 1), after=tempo)
    assert pupil.view.phase is Phase.RIGHT
    assert pupil.view.hesitations == ()


moves = st.lists(
    st.one_of(
        st.integers(0, 11).map(lambda n: ("play", n)),
        st.sampled_from([53, 60, 66, 71, 84]).map(lambda key: ("press", key)),
        st.sampled_from([
            events.Skip(), events.AskAgain(), events.PianoFound("one", "driver"),
            events.PianoFound("one", "driver", 0), events.PianoLost("one"),
            events.StoodStill(5000.0), events.ReadLate(30.0),
        ]).map(lambda event: ("feed", event)),
        st.just(("look", None)),
    ),
    max_size=30,
)  # fmt: skip


def told(moves):
    pupil = Pupil(LINE, LINE, LINE)
    for what, which in moves:
        match what:
            case "play" if pupil.view.line:
                pupil.play(which, after=333.0)
            case "press":
                pupil.press(which, after=20.0)
            case "feed":
                pupil.feed(which)
            case "look":
                pupil.look()
    pupil.t += 1000
    pupil.feed(events.Stop())
    return pupil


@given(moves)
@settings(max_examples=80, deadline=None)
def test_whatever_is_played_every_record_keeps_to_the_schema_and_lines_end_as_they_begin(moves):
    pupil = told(moves)
    event = part("event")
    for record in records_of(pupil.effects):
        event.validate(json.loads(msgspec.json.encode(record)))
    lines = [each for each in pupil.effects if isinstance(each, LineShown | LineFinished)]
    assert len(lines) % 2 == 0
    for begun, finished in zip(lines[::2], lines[1::2], strict=True):
        assert isinstance(begun, LineShown)
        assert isinstance(finished, LineFinished)
    for one, other in pairwise(pupil.of(LineAnswered)):
        assert one.t < other.t or one.number < other.number


@given(moves)
@settings(max_examples=30, deadline=None)
def test_the_same_events_give_the_same_session(moves):
    assert records_of(told(moves).effects) == records_of(told(moves).effects)
