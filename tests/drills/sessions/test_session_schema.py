"""The JSON Schema of a session file: what the program writes passes, wrong lines do not."""

import json
import re
from copy import deepcopy
from importlib import resources

import pytest
from jsonschema import Draft202012Validator, ValidationError

from drills.app.session_clock import SessionClock
from drills.cards.card import Kind, cards_of, key_cards
from drills.learning.planner import Planner
from drills.sessions.events import PianoFound, PianoLost, Stop
from drills.sessions.generate import generated_files
from drills.sessions.practice import Drill
from drills.sessions.records import RECORDS
from drills.sessions.schema import kind_name
from drills.simulation.demonstration import DemonstrationPupil, play
from drills.storage.recorder import Recorder
from drills.storage.studio import Studio
from landmarks.answer import Verdict
from landmarks.sets import built_in_sets, parse_set
from landmarks.stave import CLEFS
from tests.scripted_drill import A_ABOVE_G, BASS_F, FIVE, KEY_G, TREBLE_G, PlayedDrill
from tests.session_schema import SCHEMA, hold, part

EDGES = """
anchors = [
    { clef = "bass", note = "A0", steps_below = 0 },
    { clef = "treble", note = "C8", steps_above = 0 },
    { clef = "bass", note = "C8", steps_above = 0 },
    { clef = "treble", note = "A0", steps_below = 0 },
]
"""
SETS = built_in_sets() | {"edges": parse_set(EDGES, "edges", "edges.toml")}


def recorded(effects, folder, landmarks=FIVE, seed=0):
    """Keep what a session wrote as its file, through the recorder; give the file."""
    pupil = Studio(folder).pupil("Robin")
    recorder = Recorder(Studio(folder), pupil, landmarks, seed, SessionClock(), "simulated")
    for effect in effects:
        recorder.carry_out(effect)
    recorder.close()
    return pupil.session_files()[0]


def test_the_schema_is_a_schema_and_comes_with_the_package():
    Draft202012Validator.check_schema(SCHEMA)
    assert resources.files("drills.sessions").joinpath("session.schema.json").is_file()


@pytest.mark.parametrize("name", SETS)
@pytest.mark.parametrize("seed", range(3))
def test_every_demonstration_passes(name, seed, tmp_path):
    landmarks = SETS[name]
    cards = (*cards_of(landmarks), *key_cards(landmarks))
    clock = SessionClock()
    drill = Drill(Planner(cards, (), seed), clock.started)
    effects = play(drill, DemonstrationPupil(seed), lambda view: None)
    lines = hold(recorded(effects, tmp_path, landmarks, seed))
    assert {line["event"] for line in lines[1:]} == {"card", "key", "answer", "end"}
    assert lines[-1]["why"] == "done"


def eventful():
    """A session in which everything happens that can."""
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G, BASS_F, KEY_G, TREBLE_G, A_ABOVE_G)
    drill.feed(PianoFound("upright", "driver", None))
    drill.look()
    for key in (72, 59, 72, 72):
        drill.play(key)
    drill.go_on()
    for key in (48 + 12, 55 + 12, 71 + 12, 76 + 12, 67 + 12):
        drill.play(key)
    drill.go_on()
    for keys in ((65 + 12,), (70 + 12,), (60 + 12, 62 + 12, 64 + 12), (71 + 12, 69 + 12)):
        drill.play(*keys)
    drill.go_on()
    drill.feed(PianoLost("upright"))
    drill.play(53)
    drill.go_on()
    drill.play(67, after=50)
    drill.go_on()
    drill.play(67, after=50_000)
    drill.go_on()
    drill.play(71)
    drill.feed(Stop())
    return drill


def test_a_session_in_which_everything_happens_passes(tmp_path):
    drill = eventful()
    lines = hold(recorded(drill.effects, tmp_path))
    assert {line["event"] for line in lines[1:]} == {"card", "key", "answer", "piano", "end"}
    assert {line["change"] for line in lines[1:] if line["event"] == "piano"} == {
        "found", "tuned", "lost",
    }  # fmt: skip
    reasons = {line.get("why_not") for line in lines[1:] if line["event"] == "answer"}
    assert reasons == {
        None, "too soon", "later attempt", "pause", "piano lost", "piano found", "brushed",
        "cluster", "tuning",
    }  # fmt: skip


def test_a_session_that_ends_before_its_first_card_passes(tmp_path):
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.feed(Stop("closed"))
    assert [line.get("event") for line in hold(recorded(drill.effects, tmp_path))] == [None, "end"]


def test_the_schema_knows_every_kind_verdict_clef_and_field_of_the_program():
    defs = SCHEMA["$defs"]
    assert set(defs["card"]["properties"]["kind"]["enum"]) == {str(kind) for kind in Kind}
    assert set(defs["card"]["properties"]["clef"]["enum"]) == set(CLEFS)
    assert set(defs["answer"]["properties"]["verdict"]["enum"]) == {str(v) for v in Verdict}
    for record in RECORDS:
        fields = set(record.__struct_fields__) | {"event"}
        assert set(defs[kind_name(record)]["properties"]) == fields


@pytest.mark.parametrize("path", generated_files(), ids=lambda path: path.name)
def test_the_schema_and_its_description_are_those_that_the_records_give(path):
    assert path.read_text("utf-8") == generated_files()[path]


def test_every_example_in_the_description_passes_and_shows_each_kind_of_line():
    text = resources.files("drills.sessions").joinpath("SESSION_FILE.md").read_text("utf-8")
    lines = [
        json.loads(line)
        for block in re.findall(r"```json\n(.*?)```", text, re.DOTALL)
        for line in block.splitlines()
    ]
    for line in lines:
        part("event" if "event" in line else "header").validate(line)
    assert {line.get("event") for line in lines} == {None, *LINES} - {"header"}


HEADER = {
    "format": "landmark-drills session", "version": 1,
    "session": "6f9b1c52-8a0e-4c11-9d83-5b3a3f0e2a10", "pupil": "Robin",
    "started": "2026-03-02T16:30:05.25+01:00", "clock_ns": 7, "program": "0.1.0", "port": None,
    "clock": "window", "set": "five", "seed": 7,
}  # fmt: skip
CARD = {
    "event": "card", "t": 16.7, "id": "step/treble/A4", "kind": "step", "clef": "treble",
    "target": 69, "name": "treble A",
}  # fmt: skip
KEY = {"event": "key", "t": 900.5, "key": 69, "velocity": 64, "channel": 1, "on": True}
ANSWER = {
    "event": "answer", "t": 900.5, "id": "step/treble/A4", "verdict": "exact", "played": 69,
    "ms": 883.8, "attempt": 1, "hints": 0, "counted": True,
}  # fmt: skip
RUNG = {
    "event": "rung", "t": 0.0, "rung": "one-line", "before": "no-stave", "by": "answers",
    "why": "7 of the last 7 moves right.",
}  # fmt: skip
PIANO = {"event": "piano", "t": 0.0, "change": "tuned", "port": "x", "clock": "driver", "shift": 0}
END = {"event": "end", "t": 1e6, "why": "done"}
LINE = {"event": "line", "t": 10.0, "source": "invented", "notes": ["treble/F#4/quarter."]}
VALUE = {"event": "value", "t": 10.0, "value": "half.", "name": "dotted minim"}
VALUE_ANSWER = {
    "event": "value-answer", "t": 900.0, "value": "half.", "note": 0, "touched": "other",
    "right": False, "ms": 890.0, "attempt": 1,
}  # fmt: skip
MACHINE = {"event": "machine", "t": 5.0, "what": "stood still", "ms": 184000.25}
NOTE = {"event": "note", "t": 1500.0, "note": 0, "played": 66, "way": "on"}
WRONG_KEY = {
    "event": "wrong-key",
    "t": 1800.0,
    "note": 1,
    "verdict": "skip",
    "played": 69,
    "steps": -2,
}
LINE_ANSWER = {
    "event": "line-answer",
    "t": 9000.0,
    "note": 1,
    "id": "piece/treble/C5",
    "verdict": "exact",
    "played": 72,
    "ms": -12.5,
    "low": -90.0,
    "high": 70.25,
}
LINE_END = {"event": "line-end", "t": 9000.0, "why": "left"}
LISTEN = {"event": "listen", "t": 130.2, "item": "echo", "attempt": 1}
TONE = {"event": "tone", "t": 830.0, "key": 72}
HEARD = {
    "event": "heard", "t": 9000.0, "item": "pulse", "band": "unsure", "figures": {"taps": 3.0},
}  # fmt: skip
LINES = {
    "header": HEADER, "card": CARD, "key": KEY, "answer": ANSWER, "rung": RUNG, "piano": PIANO,
    "machine": MACHINE, "end": END,
    "line": LINE, "value": VALUE, "value-answer": VALUE_ANSWER,
    "note": NOTE, "wrong-key": WRONG_KEY, "line-answer": LINE_ANSWER, "line-end": LINE_END,
    "listen": LISTEN, "tone": TONE, "heard": HEARD,
}  # fmt: skip


def passes(line):
    return part("event" if "event" in line else "header").is_valid(line)


@pytest.mark.parametrize("name", LINES)
def test_a_line_with_fields_of_a_later_version_passes(name):
    assert passes(LINES[name])
    assert passes(LINES[name] | {"mood": "merry", "fingers": [1, 2]})


def test_an_event_of_a_later_version_passes():
    assert passes({"event": "pedal", "t": 17.5, "down": True})


NEEDED = [
    (name, field)
    for name, line in LINES.items()
    for field in line
    if field not in ("event", "counted")
]


@pytest.mark.parametrize(("name", "field"), NEEDED)
def test_a_line_without_one_of_its_fields_is_refused(name, field):
    line = deepcopy(LINES[name])
    del line[field]
    assert not passes(line)


WRONG = [
    ("header", "format", "some session"), ("header", "version", 0), ("header", "version", "1"),
    ("header", "session", "6f9b1c52"), ("header", "pupil", ""), ("header", "pupil", "x" * 25),
    ("header", "started", "2026-03-02T16:30:05"), ("header", "started", "2026-03-02T16:30:05Z"),
    ("header", "started", "2 March 2026"), ("header", "clock_ns", -1), ("header", "clock_ns", 0.5),
    ("header", "port", 3), ("header", "clock", "sundial"), ("header", "set", ""),
    ("header", "seed", "7"),
    ("card", "t", "16.7"), ("card", "id", "A4"), ("card", "id", "step/alto/A4"),
    ("card", "id", "step/treble/H4"), ("card", "id", "step/treble/A04"), ("card", "kind", "game"),
    ("card", "clef", "alto"), ("card", "target", 128), ("card", "target", 60.5),
    ("card", "name", ""),
    ("key", "key", -1), ("key", "key", 128), ("key", "velocity", 128), ("key", "channel", 0),
    ("key", "channel", 17), ("key", "on", 1), ("key", "t", None),
    ("answer", "verdict", "right"), ("answer", "played", "A4"), ("answer", "ms", -0.001),
    ("answer", "attempt", 0), ("answer", "hints", 4), ("answer", "counted", False),
    ("answer", "why_not", "too soon"), ("answer", "id", "69"),
    ("card", "move", -1), ("card", "id", "key/treble/D4/"), ("answer", "move", 0.5),
    ("rung", "rung", ""), ("rung", "by", "the wind"), ("rung", "why", ""), ("rung", "before", 3),
    ("piano", "change", "moved"), ("piano", "clock", "sundial"), ("piano", "shift", 1.5),
    ("piano", "port", ""),
    ("note", "note", -1), ("note", "played", 128), ("note", "way", "down"),
    ("wrong-key", "verdict", "wrong"), ("wrong-key", "steps", 0.5),
    ("line-answer", "id", "C5"), ("line-answer", "ms", "late"), ("line-end", "why", "bored"),
    ("line", "hands", "neither"),
    ("end", "why", ""), ("end", "t", [1]), ("end", "event", ""),
]  # fmt: skip


@pytest.mark.parametrize(("name", "field", "value"), WRONG)
def test_a_line_with_a_wrong_value_is_refused(name, field, value):
    assert not passes(LINES[name] | {field: value})


def test_an_answer_either_counts_or_says_why_not():
    uncounted = {field: value for field, value in ANSWER.items() if field != "counted"}
    assert not passes(uncounted)
    assert passes(uncounted | {"why_not": "pause"})


def test_a_hesitation_is_told_with_its_interval_or_not_at_all():
    untold = {
        name: value for name, value in LINE_ANSWER.items() if name not in ("ms", "low", "high")
    }
    assert passes(untold)
    assert not passes(untold | {"ms": 3.0, "low": 1.0})
    assert not passes(untold | {"low": 1.0, "high": 5.0})


@pytest.mark.parametrize("line", [[], "card", 3, None, {}, {"t": 1.0}, {"event": "end"}])
def test_what_is_no_line_at_all_is_refused(line):
    with pytest.raises(ValidationError):
        Draft202012Validator(SCHEMA).validate(line)


def test_a_file_without_its_header_is_refused(tmp_path):
    file = recorded(eventful().effects, tmp_path)
    file.write_text("\n".join(file.read_text("utf-8").splitlines()[1:]), "utf-8")
    with pytest.raises(ValidationError):
        hold(file)
