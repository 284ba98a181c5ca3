"""Session files: written line by line, and readable however they were cut short."""

import json
import os
import re
import stat
from datetime import UTC, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.cards.card import Card, Kind, parse_card
from drills.learning.response import LineAnswer
from drills.sessions.device_records import KeyMovedRecord, MachineNoticedRecord, PianoChangedRecord
from drills.sessions.line_records import LineAnsweredRecord, NoteReadRecord
from drills.sessions.records import (
    FORMAT,
    VERSION,
    AnsweredRecord,
    CardAskedRecord,
    EndedRecord,
    Header,
)
from drills.storage.session_file import SessionFileError, SessionWriter, read_session
from landmarks.pitch import Pitch
from landmarks.stave import BASS, TREBLE
from tests.session_schema import hold

STARTED = datetime(2026, 3, 2, 16, 30, 5, 250_000, tzinfo=ZoneInfo("Europe/Berlin"))


def header(**changes):
    return Header(
        **{
            "session": "6f9b1c52-8a0e-4c11-9d83-5b3a3f0e2a10", "pupil": "Zoë", "started": STARTED,
            "clock_ns": 7_810_000_000_000, "program": "0.1.0", "port": "Stage piano",
            "clock": "driver", "set": "five", "seed": 7,
        } | changes
    )  # fmt: skip


RECORDS = (
    PianoChangedRecord(t=2.1, change="found", port="Stage piano", clock="driver"),
    CardAskedRecord(
        t=16.7, id="step/treble/A4", kind="step", clef="treble", target=69, name="treble A"
    ),
    KeyMovedRecord(t=916.7, key=67, velocity=64, channel=1, on=True),
    AnsweredRecord(
        t=916.7, id="step/treble/A4", verdict="step", played=67, ms=900.0, attempt=1, hints=0,
        counted=True,
    ),
    KeyMovedRecord(t=1100.001, key=67, velocity=0, channel=1, on=False),
    AnsweredRecord(
        t=2016.7, id="step/treble/A4", verdict="exact", played=69, ms=2000.0, attempt=2, hints=0,
        why_not="later attempt",
    ),
    CardAskedRecord(
        t=3016.7, id="landmark/bass/F3", kind="landmark", clef="bass", target=53, name="bass F ♯"
    ),
    AnsweredRecord(
        t=4267.2, id="landmark/bass/F3", verdict="exact", played=53, ms=1250.5, attempt=1,
        hints=0, counted=True,
    ),
    PianoChangedRecord(t=5000.0, change="lost", port="Stage piano", clock="driver", shift=0),
    MachineNoticedRecord(t=5900.5, what="read late", ms=31.25),
    EndedRecord(t=6000.0, why="stopped"),
)  # fmt: skip


def written(folder, records=RECORDS, **changes):
    writer = SessionWriter(folder, header(**changes))
    for record in records:
        writer.append(record)
    writer.close()
    return writer.path


def test_a_session_reads_back_as_it_was_written(tmp_path):
    session = read_session(written(tmp_path))
    assert session.header == header()
    assert session.events == RECORDS


def test_a_file_passes_the_schema_and_each_line_is_a_line(tmp_path):
    lines = hold(written(tmp_path))
    assert len(lines) == 1 + len(RECORDS)
    assert (lines[0]["format"], lines[0]["version"]) == (FORMAT, VERSION)


def test_only_counted_answers_become_responses_with_their_card_time_and_key(tmp_path):
    responses = read_session(written(tmp_path)).responses
    a4, f3 = Pitch.parse("A4"), Pitch.parse("F3")
    assert [
        (r.card, r.at, r.seconds, r.correct, r.played) for r in responses
    ] == [
        (Card(Kind.STEP, TREBLE, a4, a4), STARTED + timedelta(seconds=0.9167), 0.9, False, 67),
        (Card(Kind.LANDMARK, BASS, f3, f3), STARTED + timedelta(seconds=4.2672), 1.2505, True, 53),
    ]  # fmt: skip


def test_the_file_is_readable_after_every_line(tmp_path):
    writer = SessionWriter(tmp_path, header())
    for n, record in enumerate(RECORDS):
        assert read_session(writer.path).events == RECORDS[:n]
        writer.append(record)
    assert read_session(writer.path).events == RECORDS
    writer.close()


def test_a_file_cut_at_any_byte_gives_every_whole_line(tmp_path):
    path = written(tmp_path)
    whole = path.read_bytes()
    ends = [match.start() for match in re.finditer(b"\n", whole)]
    cut_file = tmp_path / "cut.jsonl"
    for cut in range(len(whole) + 1):
        cut_file.write_bytes(whole[:cut])
        if cut < ends[0]:
            with pytest.raises(SessionFileError):
                read_session(cut_file)
        else:
            lines = sum(end <= cut for end in ends) - 1
            assert read_session(cut_file).events == RECORDS[:lines]


times = st.floats(0, 4e6).map(lambda t: round(t, 3))
key_numbers = st.integers(0, 127)
words = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12)
clocks = st.sampled_from(["driver", "arrival", "window", "simulated"])
ids = st.sampled_from(["step/treble/A4", "landmark/bass/F3", "key/treble/C4", "piece/bass/Bb2"])
records = st.one_of(
    st.builds(
        CardAskedRecord, t=times, id=ids, kind=st.sampled_from(Kind).map(str),
        clef=st.sampled_from(["treble", "bass"]), target=key_numbers, name=words,
    ),
    st.builds(
        KeyMovedRecord, t=times, key=key_numbers, velocity=key_numbers, channel=st.integers(1, 16),
        on=st.booleans(),
    ),
    st.builds(
        AnsweredRecord, t=times, id=ids, verdict=st.sampled_from(["exact", "step", "clef"]),
        played=key_numbers, ms=times, attempt=st.integers(1, 9), hints=st.integers(0, 2),
        counted=st.just(True), why_not=st.none(),
    ),
    st.builds(
        PianoChangedRecord, t=times, change=st.sampled_from(["found", "lost"]), port=words,
        clock=clocks, shift=st.none() | st.integers(-24, 24),
    ),
    st.builds(
        NoteReadRecord, t=times, note=st.integers(0, 99), played=key_numbers,
        way=st.sampled_from(["on", "back", "over"]),
    ),
    st.builds(
        LineAnsweredRecord, t=times, note=st.integers(0, 99), id=ids,
        verdict=st.sampled_from(["exact", "step"]), played=key_numbers,
    ),
    st.builds(EndedRecord, t=times, why=words),
)  # fmt: skip


@given(some=st.lists(records, max_size=8), data=st.data())
@settings(max_examples=150)
def test_whatever_was_written_reads_back_and_passes_the_schema(some, data, tmp_path_factory):
    path = written(tmp_path_factory.mktemp("sessions"), some)
    assert path.read_bytes().count(b"\n") == len(some) + 1  # no word breaks a line
    hold(path)
    assert list(read_session(path).events) == some
    cut = data.draw(st.integers(0, path.stat().st_size))
    whole = path.read_bytes()[:cut]
    path.write_bytes(whole)
    if b"\n" in whole:
        read = list(read_session(path).events)
        assert read == some[: len(read)]
        assert len(read) >= whole.count(b"\n") - 1


def test_answers_in_a_line_are_read_apart_from_those_to_cards(tmp_path, tmp_path_factory):
    place = parse_card("piece/treble/A4")
    late = LineAnsweredRecord(
        t=9000.0, note=2, id=place.id, verdict="exact", played=69, ms=510.0, low=120.0, high=900.0
    )
    missed = LineAnsweredRecord(t=9000.0, note=3, id=place.id, verdict="step", played=71)
    session = read_session(written(tmp_path, [*RECORDS, late, missed]))
    assert (
        session.responses
        == read_session(written(tmp_path_factory.mktemp("without"), RECORDS)).responses
    )
    at = session.header.started + timedelta(seconds=9)
    assert session.line_answers == (
        LineAnswer(place, at, True, 69, 0.51, 0.12, 0.9),
        LineAnswer(place, at, False, 71),
    )


def test_fields_and_events_of_a_later_version_are_passed_over(tmp_path):
    path = written(tmp_path, RECORDS[:3])
    lines = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
    lines[0] |= {"version": VERSION + 1, "mood": "merry"}
    lines[2] |= {"colour": {"paper": "white"}}
    lines.insert(2, {"event": "pedal", "t": 5.0, "down": True})
    lines.append({"event": "pedal", "t": 5.0})
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), "utf-8")
    session = read_session(path)
    assert session.events == RECORDS[:3]
    assert session.header.version == VERSION + 1


@pytest.mark.parametrize(
    "line",
    [
        b"", b"{", b"null", b"[]", b"\xff\xfe", b'{"event":"key"}', b'{"t":1.0}',
        b'{"event":"key","t":"soon","key":60,"velocity":1,"channel":1,"on":true}',
        b'{"event":"end","t":1e999,"why":"done"}', b"[" * 100_000,
        b'{"event":"end","t":1.0,"why":"done","more":' + b"[" * 100_000,
        b'{"event":"end","t":1.0,"why":"\xff"}', b"\x00" * 64,
    ],
)  # fmt: skip
def test_a_damaged_line_costs_no_more_than_itself(line, tmp_path):
    path = written(tmp_path)
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join([*lines[:4], line + b"\n", *lines[4:]]))
    assert read_session(path).events == RECORDS


@pytest.mark.parametrize(
    "change", [{"id": "step/alto/A4"}, {"id": "dance/treble/A4"}, {"t": 1e18}, {"t": -1e300}]
)
def test_an_answer_to_an_unknown_card_or_at_an_impossible_time_is_no_response(change, tmp_path):
    fields = {
        "t": 5.0, "id": "step/treble/A4", "verdict": "exact", "played": 69, "ms": 3.0,
        "attempt": 1, "hints": 0, "counted": True,
    }  # fmt: skip
    path = written(tmp_path, [AnsweredRecord(**fields | change), *RECORDS])
    session = read_session(path)
    assert session.events[-len(RECORDS) :] == RECORDS
    assert len(session.responses) == 2


@pytest.mark.parametrize(
    "first_line",
    [
        b"", b"\n", b"hello\n", b"{}\n", b"[1]\n", b"\xff\xfe\x00\n", b"\x00\n",
        b'{"event":"end","t":1.0,"why":"done"}\n', b"[" * 100_000 + b"\n",
    ],
)  # fmt: skip
def test_a_file_that_is_no_session_is_refused_in_one_sentence(first_line, tmp_path):
    path = tmp_path / "shopping.jsonl"
    path.write_bytes(first_line)
    sentence = (
        f"{path}: line 1 is not the header of a session file; choose a file that "
        "landmark-drills wrote"
    )
    with pytest.raises(SessionFileError) as refusal:
        read_session(path)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    "change",
    [{"format": "a diary"}, {"started": "2026-03-02T16:30:05"}, {"seed": "seven"}, {"pupil": None},
     {"clock": "sundial"}],
)  # fmt: skip
def test_a_header_with_a_wrong_value_is_refused(change, tmp_path):
    path = written(tmp_path)
    first, *others = path.read_text("utf-8").splitlines()
    path.write_text("\n".join([json.dumps(json.loads(first) | change), *others]), "utf-8")
    with pytest.raises(SessionFileError, match="line 1 is not the header"):
        read_session(path)


def test_a_file_that_is_not_there_is_the_systems_own_error(tmp_path):
    with pytest.raises(FileNotFoundError):
        read_session(tmp_path / "none.jsonl")


# ISO 8601 and RFC 3339 write an offset as hours and minutes.
@pytest.mark.parametrize(
    ("zone", "offset"),
    [
        (UTC, "+00:00"), (ZoneInfo("UTC"), "+00:00"), (ZoneInfo("Europe/Berlin"), "+01:00"),
        (ZoneInfo("America/St_Johns"), "-03:30"), (ZoneInfo("Asia/Kathmandu"), "+05:45"),
        (timezone(timedelta(hours=-12)), "-12:00"),
    ],
)  # fmt: skip
def test_the_start_is_written_with_its_offset_in_hours_and_minutes(zone, offset, tmp_path):
    started = datetime(2026, 3, 2, 16, 30, 5, 250_000, tzinfo=zone)
    path = written(tmp_path, started=started)
    (line, *_) = hold(path)
    assert line["started"] == "2026-03-02T16:30:05.250000" + offset
    read = read_session(path).header.started
    assert (read, read.utcoffset()) == (started, started.utcoffset())


def test_in_the_hour_that_comes_twice_the_offset_tells_which_it_is(tmp_path):
    first = datetime(2026, 10, 25, 2, 30, tzinfo=ZoneInfo("Europe/Berlin"))
    second = first.replace(fold=1)
    one = written(tmp_path, started=first)
    two = written(tmp_path, started=second, session="00000000-8a0e-4c11-9d83-5b3a3f0e2a10")
    assert hold(one)[0]["started"].endswith("+02:00")
    assert hold(two)[0]["started"].endswith("+01:00")
    apart = read_session(two).header.started - read_session(one).header.started
    assert apart == timedelta(hours=1)


def test_a_start_read_from_an_earlier_hand_with_a_letter_for_utc_is_understood(tmp_path):
    path = written(tmp_path)
    text = path.read_text("utf-8").replace("16:30:05.250000+01:00", "15:30:05.25Z")
    path.write_text(text, "utf-8")
    assert read_session(path).header.started == STARTED


def test_a_file_is_named_by_its_local_start_and_its_session(tmp_path):
    assert written(tmp_path).name == "2026-03-02T16-30-05_6f9b1c52.jsonl"


def test_a_file_can_be_read_and_written_by_its_owner_only(tmp_path):
    before = os.umask(0)
    try:
        path = written(tmp_path)
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_no_session_is_ever_written_over_another(tmp_path):
    path = written(tmp_path)
    before = path.read_bytes()
    with pytest.raises(FileExistsError):
        written(tmp_path)
    assert path.read_bytes() == before


def test_a_missing_folder_is_an_error_of_the_system(tmp_path):
    with pytest.raises(FileNotFoundError):
        SessionWriter(tmp_path / "none", header())
