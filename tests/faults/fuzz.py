"""Files that lie: damaged and hostile inputs for every reader, and what a reader may do with them.

A reader may give what it read, or refuse with the error it documents. Anything else is a fault: a
crash, a wait of more than `LONGEST` seconds, a file outside the studio.
"""

from __future__ import annotations

import random
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from drills.cards.card import default_cards, parse_card
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.observations import Observations, PriorKnowledgeError
from drills.piano.messages import MessageReader
from drills.reports.review_text import pupil_lines
from drills.review.collect import collect
from drills.review.pupil import review_pupil
from drills.storage.import_files import take_in_files
from drills.storage.plan import SUFFIX, PlanError, home_plan, read_plan, write_plan
from drills.storage.prior_knowledge_file import SUFFIX as BEGINNINGS
from drills.storage.prior_knowledge_file import read_observations, write_observations
from drills.storage.session_file import SessionFileError, read_session
from drills.storage.settings import SUFFIX as SETTINGS
from drills.storage.settings import SettingsError, read_settings
from drills.storage.studio import Studio
from landmarks.pitch import Pitch
from landmarks.score.files import open_score
from landmarks.score.notes import ScoreError
from landmarks.sets import SetError, parse_set
from tests.faults.pupil import recorded_session

LONGEST = 5.0
"""Seconds for one small input: far more than any needs, even on a busy machine."""
NOW = datetime(2026, 11, 20, 18, tzinfo=UTC)
SET = b"""title = "My landmarks"
anchors = [
    { clef = "treble", note = "G4" },
    { clef = "bass", note = "F3", steps_below = 0, steps_above = 4 },
]
"""
SCORE = b"""<?xml version="1.0"?>
<!DOCTYPE score-partwise [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name>
</score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions>
<clef><sign>G</sign><line>2</line></clef></attributes><note><pitch><step>G</step><octave>4</octave>
</pitch><duration>1</duration></note></measure></part></score-partwise>
"""
HOSTILE = (
    b"&b;", b"<!ENTITY c SYSTEM 'file:///etc/passwd'>&c;", b"PK\x03\x04", b"MThd\x00\x00\x00\x06",
    b"<a>" * 3000,
    b"null", b"true", b"-1", b"0", b"1e999", b"-1e308", b"9" * 400, b"9" * 5000, b"NaN",
    b"Infinity", b'""', b'"\\ud800"', b'"\\u0000"', b'"../../outside"', b'"/outside"', b"[" * 3000,
    b'{"a":' * 2000, b"[]", b"{}", b'"0001-01-01T00:00:00+23:59"', b'"9999-12-31T23:59:59-23:59"',
    b'"2026-03-29T02:30:00+01:00"', b'"' + b"x" * 5000 + b'"', b"\xff\xfe", b"\x00", b"\xc3",
    b"2026-13-45", b"0x7f", b"'''", b"\x1b[2J", b'"landmark/treble/C9999999999"',
)  # fmt: skip


class Damage:
    """Damages bytes in the ways of cables, editors, copies and enemies."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)

    def to(self, content: bytes) -> bytes:
        """Damage in one to three ways."""
        for _ in range(self.chance.randint(1, 3)):
            content = self.chance.choice(self.ways)(self, content)
        return content[:200_000]

    def _cut(self, content: bytes) -> bytes:
        return content[: self.chance.randint(0, len(content))]

    def _double(self, content: bytes) -> bytes:
        lines = content.split(b"\n")
        return b"\n".join(lines + self.chance.sample(lines, min(3, len(lines))))

    def _reorder(self, content: bytes) -> bytes:
        lines = content.split(b"\n")
        self.chance.shuffle(lines)
        return b"\n".join(lines)

    def _encode(self, content: bytes) -> bytes:
        text = content.decode("latin-1")
        return text.encode(self.chance.choice(["utf-16", "utf-32", "utf-8-sig", "utf-7"]))

    def _flip(self, content: bytes) -> bytes:
        if not content:
            return b"\x00"
        damaged = bytearray(content)
        for _ in range(self.chance.randint(1, 8)):
            damaged[self.chance.randrange(len(damaged))] = self.chance.randrange(256)
        return bytes(damaged)

    def _insert(self, content: bytes) -> bytes:
        at = self.chance.randint(0, len(content))
        return content[:at] + self.chance.choice(HOSTILE) + content[at:]

    def _value(self, content: bytes) -> bytes:
        """Put a hostile value in the place of one that a JSON or TOML file holds."""
        marks = [n for n, byte in enumerate(content) if byte in b":="]
        if not marks:
            return content
        at = self.chance.choice(marks) + 1
        ends = [end for mark in b",}\n" if (end := content.find(bytes([mark]), at)) >= 0]
        return content[:at] + self.chance.choice(HOSTILE) + content[min(ends, default=at) :]

    def _later(self, content: bytes) -> bytes:
        return content.replace(b'"version":3', b'"version":99,"new":[1,{"x":null}]')

    ways = (_cut, _double, _reorder, _encode, _flip, _insert, _value, _value, _value, _later)


Reader = Callable[[bytes], object]
_SMALL_FILES = (SUFFIX, BEGINNINGS, SETTINGS)


@dataclass
class Readers:
    """Every reader, on files in a folder of its own beside which nothing may appear."""

    folder: Path
    seeds: dict[str, bytes] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.studio_folder = self.folder / "inner" / "studio"
        studio = Studio(self.studio_folder)
        path = recorded_session(studio, "Robin", 1)
        lines = path.read_bytes().splitlines(keepends=True)
        path.unlink()
        plan = write_plan(home_plan("Robin", NOW, default_cards()[:4], 10), self.folder)
        session = b"".join(lines[:40])
        self.seeds = {
            "session": session,
            "review": session,
            "gather": session,
            "plan": plan.read_bytes(),
            "gathered plan": plan.read_bytes(),
            "beginnings": write_observations(
                Observations(pupil="Robin").seen("pulse", "yes", NOW), studio.pupil("Robin")
            ).read_bytes(),
            "settings": b'minutes = 12\nset = "cs"\nquiet = true\nchanged = 2026-03-01T08:00:00Z\n',
            "score file": SCORE,
            "pianos": b'{"upright": 0, "stage": 12}',
            "set": SET,
            "card id": b"landmark/treble/G4",
            "pitch": b"F#4",
            "MIDI": bytes([0x90, 60, 80, 0xF0, 1, 2, 0xF7, 0xFE, 0x80, 60, 0, 0xB0, 64, 127]),
        }
        plan.unlink()
        self.input = self.folder / "input.jsonl"

    def read(self, name: str, content: bytes) -> None:
        """Let one reader read; it raises whatever is a fault."""
        getattr(self, "_" + name.replace(" ", "_"))(content)

    def _session(self, content: bytes) -> None:
        self.input.write_bytes(content)
        try:
            responses = read_session(self.input).responses
        except SessionFileError:
            return
        planner = Planner(default_cards(), responses, 0)
        planner.next(NOW)

    def _review(self, content: bytes) -> None:
        self.input.write_bytes(content)
        list(pupil_lines(review_pupil(collect("Robin", [self.input], NOW), NOW)))

    def _gather(self, content: bytes) -> None:
        self.input.write_bytes(content)
        list(take_in_files([self.input], Studio(self.studio_folder)).sentences())

    def _plan(self, content: bytes) -> None:
        path = self.folder / f"input{SUFFIX}"
        path.write_bytes(content)
        try:
            read_plan(path)
        except PlanError:
            return

    def _gathered_plan(self, content: bytes) -> None:
        path = self.folder / f"input{SUFFIX}"
        path.write_bytes(content)
        list(take_in_files([path], Studio(self.studio_folder)).sentences())

    def _beginnings(self, content: bytes) -> None:
        path = self.folder / f"input{BEGINNINGS}"
        path.write_bytes(content)
        with suppress(PriorKnowledgeError):
            read_observations(path)
        list(take_in_files([path], Studio(self.studio_folder)).sentences())

    def _settings(self, content: bytes) -> None:
        path = self.folder / f"input{SETTINGS}"
        path.write_bytes(content)
        with suppress(SettingsError):
            read_settings(path)
        list(take_in_files([path], Studio(self.studio_folder)).sentences())

    def _score_file(self, content: bytes) -> None:
        self.input.write_bytes(content)
        with suppress(ScoreError):
            open_score(self.input)

    def _pianos(self, content: bytes) -> None:
        studio = Studio(self.folder)
        (self.folder / "pianos.json").write_bytes(content)
        if studio.piano_shifts():
            studio.remember_piano("another", 2)

    def _set(self, content: bytes) -> None:
        try:
            parse_set(content.decode(), "set", "set.toml")
        except (SetError, UnicodeDecodeError):
            return

    def _card_id(self, content: bytes) -> None:
        try:
            parse_card(content.decode("utf-8", "replace"))
        except ValueError:
            return

    def _pitch(self, content: bytes) -> None:
        try:
            Pitch.parse(content.decode("utf-8", "replace"))
        except ValueError:
            return

    def _MIDI(self, content: bytes) -> None:  # noqa: N802
        reader = MessageReader()
        for note in reader.read(content, 0):
            assert 0 <= note.key <= 127
            assert 1 <= note.channel <= 16

    def strays(self) -> list[Path]:
        """Give what lies where nothing may be written."""
        written = {f"input{ending}" for ending in (".jsonl", *_SMALL_FILES)}
        allowed = written | {"pianos.json", "inner"}
        outside = [path for path in self.folder.iterdir() if path.name not in allowed]
        inner = [path for path in (self.folder / "inner").iterdir() if path.name != "studio"]
        deep = [
            path
            for path in self.studio_folder.rglob("*")
            if path.is_file()
            and path.parent.name != "sessions"
            and not path.name.endswith(_SMALL_FILES)
        ]
        return outside + inner + deep


@dataclass
class Fuzzed:
    """How often each reader was tried, and what it did that it may not do."""

    inputs: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    slowest: float = 0.0


def fuzz(count: int, seed: int = 0) -> Fuzzed:
    """Give damaged inputs to every reader in turn."""
    outcome, damage = Fuzzed(), Damage(seed)
    with tempfile.TemporaryDirectory(dir=_memory()) as folder:
        readers = Readers(Path(folder))
        names = list(readers.seeds)
        for number in range(count):
            name = names[number % len(names)]
            content = damage.to(readers.seeds[name])
            begun = time.monotonic()
            try:
                readers.read(name, content)
            except Exception as error:
                outcome.faults.append(f"{name}: {error!r:.200} for {content!r:.300}")
            outcome.slowest = max(outcome.slowest, time.monotonic() - begun)
            outcome.inputs[name] += 1
            if number % 20_000 == 19_999:
                _empty(readers.studio_folder)
        outcome.faults += [f"a file outside the studio: {path}" for path in readers.strays()]
    if outcome.slowest > LONGEST:
        outcome.faults.append(f"a wait of {outcome.slowest:.1f} s")
    return outcome


def _empty(studio: Path) -> None:
    for path in studio.glob("*/sessions/*.jsonl"):
        path.unlink()


def _memory() -> str | None:
    return "/dev/shm" if Path("/dev/shm").is_dir() else None
