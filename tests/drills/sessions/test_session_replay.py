"""The same events give the same session: however often time passes, and from its file."""

from dataclasses import dataclass
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.cards.card import cards_of, key_cards, parse_card
from drills.learning.planner import Planner
from drills.sessions import events
from drills.sessions.device_records import KeyMovedRecord, PianoChangedRecord
from drills.sessions.effects import Present, Recorded, RememberPiano
from drills.sessions.practice import Drill
from drills.sessions.records import AnsweredRecord, CardAskedRecord, EndedRecord, Header
from drills.sessions.view import Phase
from drills.simulation.demonstration import DemonstrationPupil, play
from drills.storage.session_file import SessionWriter, read_session
from landmarks.sets import built_in_sets
from tests.scripted_drill import FIVE, STARTED, ListedCards, PlayedDrill, landmark, records_of, step

CARDS = [
    landmark("G4"), step("A4", "G4"), parse_card("contour/treble/G4/no-stave/up,stay,skip-down"),
    parse_card("key/treble/D4/name"), landmark("C4"), parse_card("step/treble/F4/beside-G4"),
]  # fmt: skip
KEYS = [53, 60, 62, 65, 66, 67, 68, 69, 72, 79]

gaps = st.sampled_from([0.0, 3.0, 20.0, 49.9, 50.0, 50.1, 149.0, 151.0, 400.0, 900.0, 1600.0, 31e3])


@dataclass(frozen=True)
class Look:
    """The card of the moment comes on the screen."""


happenings = st.one_of(
    st.builds(events.KeyPressed, st.sampled_from(KEYS)),
    st.builds(events.KeyPressed, st.sampled_from(KEYS)),
    st.builds(events.KeyReleased, st.sampled_from(KEYS)),
    st.just(Look()),
    st.just(Look()),
    st.builds(
        events.PianoFound, st.sampled_from(["one", "two"]), st.just("driver"),
        st.sampled_from([None, 0, 12]),
    ),
    st.builds(events.PianoLost, st.sampled_from(["one", "two"])),
    st.sampled_from([events.AskAgain(), events.Skip(), events.Hint(), events.Tell()]),
)  # fmt: skip
TEACHER = (events.AskAgain, events.Skip, events.Hint, events.Tell)
touches = st.lists(st.sampled_from(KEYS), min_size=1, max_size=3)


@st.composite
def scenes(draw):
    """Something happens; or the pupil looks at the card and touches a few keys."""
    if draw(st.booleans()):
        return [(draw(gaps), draw(happenings))]
    first, *further = draw(touches)
    apart = draw(st.sampled_from([3.0, 24.0, 49.9, 50.0, 300.0]))
    return [
        (draw(gaps), Look()),
        (draw(gaps), events.KeyPressed(first)),
        *((apart, events.KeyPressed(key)) for key in further),
    ]


stories = st.lists(scenes(), max_size=20).map(
    lambda parts: [each for part in parts for each in part]
)
stories_alone = stories.map(
    lambda story: [(gap, each) for gap, each in story if not isinstance(each, TEACHER)]
)
"""Without the teacher, whose wishes are no lines of the file."""


def told(story):
    """Tell a story as a window would, which sees to it that nothing is overdue; give its events.

    With them the drill that heard them, what it wrote and what its planner heard.
    """
    drill = PlayedDrill(*CARDS)
    said = [(0.0, events.Begin()), (0.0, events.OnScreen(1))]
    for gap, happening in story:
        drill.wait(gap)
        event = happening
        if isinstance(happening, Look):
            event = events.OnScreen(drill.view.showing)
        said.append((drill.t, event))
        drill.feed(event)
    said.append((drill.t + 1e5, events.Stop()))
    drill.t += 1e5
    drill.feed(events.Stop())
    return said, drill


@given(stories, st.lists(st.floats(0, 2e5), max_size=30))
@settings(max_examples=150)
def test_however_often_time_passes_the_same_events_give_the_same_session(story, moments):
    said, drill = told(story)
    planner = ListedCards(CARDS)
    again = Drill(planner, STARTED)
    effects = []
    moments = sorted(moments)
    for t, event in said:
        while moments and moments[0] <= t:
            effects += again.handle(events.TimePassed(), moments.pop(0))
        effects += again.handle(event, t)
    assert kept(effects) == kept(drill.effects)
    assert (planner.asked, planner.heard) == (drill.planner.asked, drill.planner.heard)
    assert again.view == drill.view


def kept(effects):
    return [effect for effect in effects if isinstance(effect, Recorded | RememberPiano)]


@given(stories, stories)
@settings(max_examples=50)
def test_nothing_that_happens_after_the_end_changes_anything(story, afterwards):
    _, drill = told(story)
    written, heard, view = drill.records, list(drill.planner.heard), drill.view
    assert view.phase is Phase.FINISHED
    for gap, happening in afterwards:
        drill.wait(gap)
        drill.feed(events.OnScreen(view.showing) if isinstance(happening, Look) else happening)
    drill.feed(events.Stop())
    assert (drill.records, drill.planner.heard, drill.view) == (written, heard, view)
    assert sum(isinstance(record, EndedRecord) for record in written) == 1
    assert drill.drill.due is None


@given(stories)
@settings(max_examples=100)
def test_what_a_session_writes_agrees_with_itself(story):
    _, drill = told(story)
    card, first_of_card = None, {}
    for record in drill.records:
        if isinstance(record, CardAskedRecord):
            card, first_of_card = record, {}
        if isinstance(record, AnsweredRecord):
            assert record.id == card.id
            assert record.ms >= 0
            assert record.counted == (record.why_not is None)
            if record.counted:
                assert first_of_card.setdefault("counted", record) is record
    counted = [a for a in drill.answers if a.counted]
    assert [(r.card.id, r.correct, r.played) for r in drill.planner.heard] == [
        (a.id, a.verdict == "exact", a.played) for a in counted
    ]


@given(stories)
@settings(max_examples=100)
def test_the_view_shown_last_is_the_view_of_the_drill(story):
    _, drill = told(story)
    shown = [effect.view for effect in drill.effects if isinstance(effect, Present)]
    assert shown[-1] == drill.view


def header(**changes):
    return Header(
        **{
            "session": "6f9b1c52-8a0e-4c11-9d83-5b3a3f0e2a10", "pupil": "Robin",
            "started": STARTED, "clock_ns": 0, "program": "0", "port": None,
            "clock": "simulated", "set": "five", "seed": 0,
        } | changes
    )  # fmt: skip


def replayed(path, planner, landmarks):
    """Play a session file again: its cards, its keys and its pianos; give all that is written."""
    session = read_session(path)
    drill = Drill(planner, session.header.started)
    effects = drill.handle(events.Begin(), 0.0)
    for record in session.events:
        effects += drill.handle(events.TimePassed(), record.t)
        match record:
            case CardAskedRecord(t=t):
                effects += drill.handle(events.OnScreen(drill.view.showing), t)
            case KeyMovedRecord(t=t, on=True):
                pressed = events.KeyPressed(record.key, record.velocity, record.channel)
                effects += drill.handle(pressed, t)
            case KeyMovedRecord(t=t):
                released = events.KeyReleased(record.key, record.velocity, record.channel)
                effects += drill.handle(released, t)
            case PianoChangedRecord(t=t, change="found"):
                found = events.PianoFound(record.port, record.clock, record.shift)
                effects += drill.handle(found, t)
            case PianoChangedRecord(t=t, change="lost"):
                effects += drill.handle(events.PianoLost(record.port), t)
            case EndedRecord(t=t) if drill.view.phase is not Phase.FINISHED:
                effects += drill.handle(events.Stop(record.why), t)
    return session, records_of(effects)


@given(story=stories_alone)
@settings(max_examples=60)
def test_a_session_played_again_from_its_file_writes_the_same_file(story, tmp_path_factory):
    _, drill = told(story)
    writer = SessionWriter(tmp_path_factory.mktemp("sessions"), header())
    for record in drill.records:
        writer.append(record)
    writer.close()
    session, written = replayed(writer.path, ListedCards(CARDS), FIVE)
    assert list(session.events) == drill.records
    assert written == drill.records
    assert [(r.card, r.played) for r in session.responses] == [
        (r.card, r.played) for r in drill.planner.heard
    ]


@pytest.mark.parametrize("name", ["five", "outward"])
@pytest.mark.parametrize("seed", range(2))
def test_a_demonstration_played_again_from_its_file_gives_the_same_answers(name, seed, tmp_path):
    landmarks = built_in_sets()[name]
    cards = (*cards_of(landmarks), *key_cards(landmarks))
    started = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
    drill = Drill(Planner(cards, (), seed), started)
    writer = SessionWriter(tmp_path, header(set=name, seed=seed))
    for record in records_of(play(drill, DemonstrationPupil(seed), lambda view: None)):
        writer.append(record)
    writer.close()
    session, written = replayed(writer.path, Planner(cards, (), seed), landmarks)
    assert len(session.responses) > 10
    assert [type(r) for r in written] == [type(r) for r in session.events]
    for one, other in zip(answers(written), answers(session.events), strict=True):
        assert (one.id, one.verdict, one.played, one.attempt, one.hints, one.why_not) == (
            other.id, other.verdict, other.played, other.attempt, other.hints, other.why_not,
        )  # fmt: skip
        assert one.ms == pytest.approx(other.ms, abs=0.002)


def answers(records):
    return [record for record in records if isinstance(record, AnsweredRecord)]
