"""Folds a pupil's session files into a small record per card, one file at a time.

What is kept does not grow with the number of sessions: the latest answers of each card, whole
counts of everything else, and the latest sessions. Medians over the latest answers are exact,
and they are what a teacher asks for: an answer of last year says nothing about today.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import groupby
from pathlib import Path
from statistics import median
from typing import Union

import msgspec

from drills.cards.card import READING_KINDS, Card, parse_card
from drills.learning.scheduler import Cause
from drills.sessions.record_fields import Duration, KeyNumber, Milliseconds
from drills.sessions.records import RECORDS, Header
from drills.storage.files import LARGEST_SESSION, LONGEST_LINE, open_plain
from drills.storage.session_file import SessionFileError, read_header
from landmarks.answer import Verdict

LATEST_ANSWERS = 120
"""How many answers of a card are kept: some half a year of practice. Of 60, three notes of a
sample pupil stood in ink here that practice, which knows all answers, had in pencil."""
LATEST_SESSIONS = 60
LATEST_MOVES = 60
READ_LATE = "read late"
SOONEST = 100.0
"""Milliseconds. Nobody answers what she sees any sooner: athletics takes a start within a tenth of
a second for a false one (World Athletics, technical rule 16.6, from memory).
"""
TOO_SOON = "too soon"
"""The word of session files."""
CLOCK_DOUBT: Mapping[str, float] = {"milliseconds": 0.001, "arrival": 0.02}
"""By how many seconds a time of a coarse clock may be wrong: it counts whole milliseconds, or is
late by what passes for in time (`drills.piano.connection.READ_LATE`)."""


@dataclass(frozen=True)
class SessionSummary:
    """One session: when it began, how long it was, and its counted reading answers.

    `median_seconds` is over the right ones, None if there was none. `late_ms` is by how much times
    may be too late that a busy computer read, 0 if it read all in time. `use` is what the session
    was for, as its file says.
    """

    started: datetime
    minutes: float
    answers: int
    right: int
    median_seconds: float | None
    late_ms: float = 0.0
    use: str = "practice"


@dataclass(frozen=True)
class GivenAnswer:
    """A counted answer: when, in the session that began when, how fast, and what it was.

    It is `right` if its verdict is exact. `doubt` is by how many seconds its time may be wrong.
    """

    at: datetime
    session: datetime
    seconds: float
    played: int
    verdict: Verdict
    right: bool
    doubt: float = 0.0


@dataclass(frozen=True)
class CardRecord:
    """What is kept of one card: its latest counted answers, oldest first, and whole counts.

    `counted` is over all sessions; `left_out` counts the answers that were kept out of the
    statistics, by reason.
    """

    card: Card
    latest: tuple[GivenAnswer, ...]
    counted: int
    left_out: Mapping[str, int]


@dataclass(frozen=True)
class Stood:
    """From `at` on the pupil stood on a rung of the ladder: by what, and why in one sentence."""

    at: datetime
    rung: str
    by: Cause
    why: str


@dataclass(frozen=True)
class PupilRecord:
    """What is kept of one pupil: cards in their order, the latest sessions, oldest first.

    `landmarks` is the name of the landmark set of the latest session, `unreadable` holds the
    names of the files that are no session files or cannot be read. `stood` tells on which rungs of
    the ladder the pupil stood: the first, and the latest after it, oldest first.
    """

    nickname: str
    landmarks: str | None
    cards: tuple[CardRecord, ...]
    sessions: tuple[SessionSummary, ...]
    session_count: int
    unreadable: tuple[str, ...]
    later: int = 0
    """Sessions dated later than the moment of the review."""
    stood: tuple[Stood, ...] = ()


def collect(
    nickname: str,
    paths: Sequence[Path],
    until: datetime | None = None,
    advance: Callable[[], None] = lambda: None,
) -> PupilRecord:
    """Fold session files, which their names put in order of time, into a record.

    Sessions that began after `until` are passed over. `advance` is called once a file. One that
    cannot be read, or is no plain file, keeps no other from being read and is named in the record.
    """
    fold = _Fold(until)
    for copies in _same_session(paths):
        fold.take(max(copies, key=_size) if copies[1:] else copies[0])
        for _ in copies:
            advance()
    return fold.record(nickname)


def _same_session(paths: Sequence[Path]) -> Iterable[list[Path]]:
    """Put together the files whose names begin with the same start time and session id.

    A file manager names a copy `name (1).jsonl` or `name copy.jsonl`.
    """
    length = len("2026-01-31T16-00-00_01234567")
    for _, copies in groupby(sorted(paths), key=lambda path: path.name[:length]):
        yield list(copies)


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return -1


class _AnswerLine(msgspec.Struct, tag_field="event", tag="answer", gc=False):
    """The parts of an answer's line that the review needs, and the session it was given in."""

    t: Milliseconds
    id: str
    verdict: Verdict
    played: KeyNumber
    ms: Duration
    counted: bool = False
    why_not: str | None = None
    session: datetime | None = msgspec.field(default=None, name="no field of the file")
    doubt: float = msgspec.field(default=0.0, name="nor this")


class _PianoLine(msgspec.Struct, tag_field="event", tag="piano", gc=False):
    """A piano was found or lost; from then on keys are timed by `clock`."""

    clock: str = ""


class _RungLine(msgspec.Struct, tag_field="event", tag="rung", gc=False):
    """On which rung the pupil stands from now on."""

    t: Milliseconds
    rung: str
    by: Cause
    why: str


class _MachineLine(msgspec.Struct, tag_field="event", tag="machine", gc=False):
    """The machine stood still, or read keys late."""

    what: str
    ms: Duration


_NEEDED = (_AnswerLine, _RungLine, _MachineLine, _PianoLine)


def _passed_over() -> list[type[msgspec.Struct]]:
    """Return types without fields for the kinds of lines of which the review needs nothing."""
    needed = {kind.__struct_config__.tag for kind in _NEEDED}
    tags = [record.__struct_config__.tag for record in RECORDS]
    return [
        msgspec.defstruct("PassedOver", (), tag_field="event", tag=tag, gc=False)
        for tag in tags
        if tag not in needed
    ]


_Line = _AnswerLine | _RungLine | _MachineLine | _PianoLine
# msgspec reads known kinds at full speed; one that it does not know costs a second reading.
_lines = msgspec.json.Decoder(Union[_Line, *_passed_over()])


class _Tally:
    """What is kept of one card while files are folded."""

    __slots__ = ("counted", "latest", "left_out")

    def __init__(self) -> None:
        self.latest: deque[_AnswerLine] = deque(maxlen=LATEST_ANSWERS)
        self.counted = 0
        self.left_out: Counter[str] = Counter()


class _Tallies(dict[str, _Tally]):
    """The tallies by card id, made as they are asked for."""

    def __missing__(self, card_id: str) -> _Tally:
        self[card_id] = tally = _Tally()
        return tally


@dataclass
class _Fold:
    until: datetime | None = None
    tallies: _Tallies = field(default_factory=_Tallies)
    sessions: deque[tuple[Header, list[_AnswerLine], float]] = field(
        default_factory=lambda: deque(maxlen=LATEST_SESSIONS)
    )
    count: int = 0
    landmarks: str | None = None
    unreadable: list[str] = field(default_factory=list)
    later: int = 0
    first_stood: Stood | None = None
    stood: deque[Stood] = field(default_factory=lambda: deque(maxlen=LATEST_MOVES))

    def take(self, path: Path) -> None:
        """Fold one file."""
        try:
            with open_plain(path, LARGEST_SESSION) as file:
                header = read_header(file.readline(LONGEST_LINE), path)
                if self.until is None or header.started <= self.until:
                    self._take_lines(header, file.read())
                else:
                    self.later += 1
        except (SessionFileError, OSError):
            self.unreadable.append(path.name)

    def _take_lines(self, header: Header, lines: bytes) -> None:
        # A million answers pass here, so nothing is done for one that can be done at the end.
        started, tallies = header.started, self.tallies
        answers, rungs, late, clocks = _told_in(lines)
        doubt = max(CLOCK_DOUBT.get(clock, 0.0) for clock in (header.clock, *clocks))
        for answer in answers:
            tally = tallies[answer.id]
            if answer.counted and answer.ms >= SOONEST:
                answer.session, answer.doubt = started, doubt
                tally.counted += 1
                tally.latest.append(answer)
            else:
                reason = TOO_SOON if answer.counted else answer.why_not
                tally.left_out[reason or "not counted"] += 1
        for rung in rungs:
            self._stand(Stood(_moment(started, rung.t), rung.rung, rung.by, rung.why))
        self.sessions.append((header, answers, late))
        self.count += 1
        self.landmarks = header.set

    def _stand(self, stood: Stood) -> None:
        """Keep where the pupil stands, if it is not where she stood already."""
        if self.first_stood is None:
            self.first_stood = stood
        elif stood.rung != (self.stood[-1] if self.stood else self.first_stood).rung:
            self.stood.append(stood)

    def record(self, nickname: str) -> PupilRecord:
        """Return what has been kept."""
        records = [
            found for id_, tally in self.tallies.items() if (found := _card_record(id_, tally))
        ]
        return PupilRecord(
            nickname=nickname,
            landmarks=self.landmarks,
            cards=tuple(sorted(records, key=lambda record: record.card)),
            sessions=tuple(_summary(*session) for session in self.sessions),
            session_count=self.count,
            unreadable=tuple(self.unreadable),
            later=self.later,
            stood=() if self.first_stood is None else (self.first_stood, *self.stood),
        )


def _summary(header: Header, answers: Sequence[_AnswerLine], late: float) -> SessionSummary:
    reading = [a for a in answers if a.counted and a.ms >= SOONEST and _is_reading(a.id)]
    right = [answer.ms for answer in reading if answer.verdict is Verdict.EXACT]
    minutes = answers[-1].t / 60_000 if answers else 0.0
    middle = median(right) / 1000 if right else None
    return SessionSummary(
        header.started, minutes, len(reading), len(right), middle, late, header.use
    )


def _is_reading(card_id: str) -> bool:
    kind, *place = card_id.split("/")
    return kind in READING_KINDS and len(place) == 2


def _told_in(lines: bytes) -> tuple[list[_AnswerLine], list[_RungLine], float, list[str]]:
    """Parse lines at one go, or one by one if a line among them is cut short or unknown.

    Returns the answers, the rungs stood on, by how many ms the times of some may be too late, and
    the clocks of the pianos that came and went.
    """
    try:
        parsed = _lines.decode_lines(lines)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        parsed = list(_whole_lines(lines))
    late = [line.ms for line in parsed if type(line) is _MachineLine and line.what == READ_LATE]
    rungs = [line for line in parsed if type(line) is _RungLine]
    answers = [line for line in parsed if type(line) is _AnswerLine]
    clocks = [line.clock for line in parsed if type(line) is _PianoLine]
    return answers, rungs, max(late, default=0.0), clocks


def _whole_lines(lines: bytes) -> Iterator[_Line]:
    for text in lines.split(b"\n"):
        try:
            yield _lines.decode(text)
        except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
            continue


def _card_record(card_id: str, tally: _Tally) -> CardRecord | None:
    """Return a tally as a record; None for a card of a later version's kind, or of no MIDI key.

    None also for cards in a form of their own (contours, keys by name, steps with the landmark
    shown): they lead up to reading and would make its figures look better than they are.
    """
    try:
        card = parse_card(card_id)
    except ValueError:
        return None
    if card.form or card.key not in range(128):
        return None
    latest = tuple(_given(answer) for answer in tally.latest)
    return CardRecord(card, latest, tally.counted, dict(tally.left_out))


def _given(answer: _AnswerLine) -> GivenAnswer:
    assert answer.session is not None
    at = _moment(answer.session, answer.t)
    verdict = answer.verdict
    return GivenAnswer(
        at, answer.session, answer.ms / 1000, answer.played, verdict, verdict is Verdict.EXACT,
        answer.doubt,
    )  # fmt: skip


def _moment(started: datetime, t: float) -> datetime:
    return started + timedelta(milliseconds=t)
