"""A grammar of studios that are well-formed and odd: sessions, plans, settings, sets, by a seed.

Every file follows the syntax of its kind (JSON Lines, JSON, TOML); its numbers, dates, names and
ids are now usual, now at the edges of what the format can say, now what only an enemy would write.
"""

from __future__ import annotations

import json
import random
import uuid
from datetime import UTC, datetime, timedelta
from pathlib import Path

from drills.learning.prior_knowledge.question import questions
from drills.storage.landmark_set_file import SUFFIX as SET
from drills.storage.plan import SUFFIX as PLAN
from drills.storage.prior_knowledge_file import SUFFIX as BEGINNINGS
from drills.storage.settings import SUFFIX as SETTINGS

NOW = datetime(2026, 11, 20, 18, tzinfo=UTC)
IDS = (
    "key/bass/C3", "key/treble/G4/name", "key/treble/G4/place", "landmark/treble/G4",
    "landmark/bass/F3", "step/treble/A4", "step/treble/A4/beside-G4", "step/bass/E3",
    "piece/treble/F#5", "contour/treble/G4/one-line/up,stay,down",
)  # fmt: skip
ODD_IDS = (
    "", "/", "landmark/treble/G4294967296", "landmark/treble/G-1", "landmark/treble/C9",
    "landmark/alto/C4", "step/treble/B####4", "step/treble/A4/beside-C9", "step/bass/A0/beside-C8",
    "contour/treble/G4/one-line/" + ",".join(["up"] * 300), "contour/treble/G9/no-stave/up,up,up",
    "contour/treble/G4/one-line/", "landmark/treble/G4/" * 50, "piece/bass/C-1", "piece/treble/G9",
    "key/treble/C8", "key/bass/A0/name", "landmark/treble/\x1b[2J", "x" * 3000,
    "landmark/treble/\uff274",
)  # fmt: skip
NUMBERS = (
    0, -1, 1, 127, 128, 0.0, -0.0, 1e-300, 5e-324, 149.999, 30_000.0, 1e9, -1e9, 2**31, 2**53,
    2**63, 2**64, 10**30, 1e308, float("nan"), float("inf"), float("-inf"),
)  # fmt: skip
TEXTS = (
    "", " ", "Robin", "\u202eniboR", "नमस्ते", "O\u0308", "\x1b]0;x\x07", "a\nb", "\x00", "\ud800",
    "<script>alert(1)</script>", "{{ 7*7 }}", "%(x)s {x}", "=1+1", "'", '"', "&amp;", "../..",
    "x" * 5000,
)  # fmt: skip
DATES = (
    "0001-01-01T00:00:00+00:00", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00",
    "9999-12-31T23:59:59+00:00", "1969-12-31T23:59:59+00:00", "2026-03-29T02:30:00+01:00",
    "2026-10-25T02:30:00+01:00", "2036-11-20T18:00:00+00:00", "2026-11-20T18:00:00", "2026-02-30",
    "2026-11-20T18:00:00+23:59", "2026-11-20T18:00:00.999999-23:59", "1583-01-01T00:00:00+00:00",
)  # fmt: skip
VERDICTS = (
    "exact", "direction", "clef", "octave", "half-step", "step", "skip", "leap", "brushed",
    "cluster",
)  # fmt: skip
EVENTS = ("card", "key", "answer", "piano", "end", "line", "note", "wrong-key", "line-answer")
NAMES = ("five", "three", "cs", "nothing", "Robin", "\x1b[2J", "../five", "five.set.toml")


class StudioMaker:
    """Makes the files of one pupil after another from one seed."""

    def __init__(self, seed: int) -> None:
        """Begin a sequence of pupils."""
        self._chance = random.Random(seed)
        self._oddness = 0.0

    def pupil(self, folder: Path, nickname: str) -> None:
        """Write a pupil's folder with one to four sessions and now and then the small files."""
        chance = self._chance
        self._oddness = chance.choice((0.0, 0.02, 0.1, 0.4))
        home = folder / nickname
        (home / "sessions").mkdir(parents=True)
        for number in range(chance.randint(1, 4)):
            path = home / "sessions" / f"2026-11-{10 + number}T16-00-00_{number:08x}.jsonl"
            path.write_bytes(self.session(nickname))
        for suffix, make in (
            (PLAN, self.plan), (SETTINGS, self.settings), (BEGINNINGS, self.beginnings),
            (SET, self.set),
        ):  # fmt: skip
            if chance.random() < 0.4:
                (home / f"{nickname}{suffix}").write_bytes(make(nickname))

    def session(self, nickname: str) -> bytes:
        """Return the content of a session file."""
        chance, odd = self._chance, self._odd
        started = (NOW - timedelta(days=chance.uniform(0, 400))).isoformat()
        header = {
            "format": "landmark-drills session", "version": odd(chance.randint(1, 5), NUMBERS),
            "session": str(uuid.UUID(int=chance.getrandbits(128))), "pupil": odd(nickname, TEXTS),
            "started": odd(started, DATES), "clock_ns": odd(0, NUMBERS),
            "clock": odd("driver", ("arrival", "sundial")), "program": odd("0", TEXTS),
            "port": odd("Invented piano", (None, *TEXTS)), "set": odd("five", NAMES),
            "seed": odd(1, NUMBERS), "use": odd("practice", ("warm-up", "spotting", *TEXTS)),
        }  # fmt: skip
        lines = [header]
        t = 16.7
        for _number in range(chance.choice((0, 1, 5, 20, 60))):
            lines += self._events(t)
            t = t + chance.uniform(100, 9000)
        if chance.random() < 0.5:
            lines.append({"event": "end", "t": t, "why": odd("done", TEXTS)})
        if chance.random() < self._oddness:
            chance.shuffle(lines)
        return "".join(json.dumps(line) + "\n" for line in lines).encode("utf-8")

    def _events(self, t: float) -> list[dict[str, object]]:
        chance, odd = self._chance, self._odd
        card, key = odd(chance.choice(IDS), ODD_IDS), odd(chance.randint(36, 84), NUMBERS)
        parts = f"{card}///".split("/")
        ms = odd(chance.lognormvariate(7.3, 0.6), NUMBERS)
        events: list[dict[str, object]] = [
            {"event": "card", "t": odd(t, NUMBERS), "id": card, "kind": parts[0], "clef": parts[1],
             "target": key, "name": odd("treble G", TEXTS)},
            {"event": "key", "t": odd(t, NUMBERS), "key": key, "velocity": odd(64, NUMBERS),
             "channel": odd(1, NUMBERS), "on": odd(True, (0, None, "yes"))},
            {"event": "answer", "t": odd(t, NUMBERS), "id": card,
             "verdict": odd(chance.choice(VERDICTS), TEXTS), "played": key, "ms": ms,
             "attempt": odd(1, NUMBERS), "hints": odd(0, NUMBERS),
             "counted": odd(chance.random() < 0.8, (None, 1, "no"))},
        ]  # fmt: skip
        if chance.random() < 0.1:
            events.append(self._line_answer(t, card))
        if chance.random() < self._oddness / 4:
            strange = {"event": chance.choice((*EVENTS, "new", "")), "t": t}
            events.append({**strange, chance.choice(("x", "why", "notes")): [[[]], {"x": None}]})
        return events

    def _line_answer(self, t: float, card: object) -> dict[str, object]:
        odd = self._odd
        return {
            "event": "line-answer", "t": odd(t, NUMBERS), "note": odd(2, NUMBERS), "id": card,
            "verdict": odd("exact", TEXTS), "played": odd(67, NUMBERS), "ms": odd(120.5, NUMBERS),
            "low": odd(60.0, NUMBERS), "high": odd(480.0, NUMBERS), "attempt": odd(1, NUMBERS),
            "counted": True,
        }  # fmt: skip

    def plan(self, nickname: str) -> bytes:
        """Return the content of a home plan."""
        chance, odd = self._chance, self._odd
        cards = [odd(card, ODD_IDS) for card in chance.sample(IDS, chance.randint(0, 5))]
        content = {
            "format": "landmark-drills plan", "version": odd(1, NUMBERS),
            "pupil": odd(nickname, TEXTS), "made": odd(NOW.isoformat(), DATES),
            "minutes": odd(10, NUMBERS), "cards": cards,
        }  # fmt: skip
        return json.dumps(content).encode("utf-8")

    def settings(self, nickname: str) -> bytes:
        """Return the content of a pupil's settings."""
        odd = self._odd
        entries = {
            "minutes": odd(12, NUMBERS), "set": odd("five", (f"{nickname}.set.toml", *NAMES)),
            "steps": odd(2, NUMBERS), "names": odd("letter", ("german", *TEXTS)),
            "ladder": odd(True, (False, *TEXTS)), "upkeep": odd(True, (False, *NUMBERS)),
            "fluent_cap": odd(4.0, NUMBERS), "fluent_factor": odd(2.0, NUMBERS),
            "grand": odd(False, (True, *NUMBERS)), "values": odd("british", TEXTS),
            "quiet": odd(True, NUMBERS), "look": odd("paper", ("high contrast", *TEXTS)),
        }  # fmt: skip
        lines = [
            f"{name} = {json.dumps(value)}"
            for name, value in entries.items()
            if self._chance.random() < 0.5
        ]
        lines += self._chance.choice(
            ([], [], [], ["unknown = 1"], ["[table]"], ["quiet = true"] * 2)
        )
        when = odd("2026-03-01T08:00:00Z", (*DATES, "nan", "[]"))
        return "\n".join([f"changed = {when}", *lines, ""]).encode("utf-8")

    def beginnings(self, nickname: str) -> bytes:
        """Return the content of what a pupil brings."""
        chance, odd = self._chance, self._odd
        chosen = chance.choices(list(questions().items()), k=chance.randint(0, 9))
        seen = [
            {
                "question": odd(name, TEXTS), "answer": odd(chance.choice(question.options), TEXTS),
                "at": odd(NOW.isoformat(), DATES),
            }
            for name, question in chosen
        ]  # fmt: skip
        decision = {"rung": odd("pulse", TEXTS), "at": odd(NOW.isoformat(), DATES)}
        decided = [decision] if chance.random() < self._oddness else []
        content = {
            "format": "landmark-drills beginnings", "version": odd(1, NUMBERS),
            "pupil": odd(nickname, TEXTS), "observations": seen, "decisions": decided,
        }  # fmt: skip
        return json.dumps(content).encode("utf-8")

    def set(self, nickname: str) -> bytes:
        """Return the content of a teacher's own landmark set."""
        chance, odd = self._chance, self._odd
        notes = ("G4", "C4", "F3", "C5", "C3")
        odd_notes = ("C9999999", "H4", "", "G-1", "G9", "B##4", "\x00", "C")
        anchors = "".join(
            f"  {{ clef = {json.dumps(odd(chance.choice(('treble', 'bass')), ('alto', '')))}, "
            f"note = {json.dumps(odd(note, odd_notes))}, "
            f"steps_below = {odd(chance.randint(0, 4), (-1, 10**9, 2**64))} }},\n"
            for note in chance.sample(notes, chance.randint(0, 5))
        )
        title = json.dumps(odd(f"Landmarks of {nickname}", TEXTS))
        return f"title = {title}\nanchors = [\n{anchors}]\n".encode()

    def _odd(self, usual: object, odd: tuple[object, ...]) -> object:
        return self._chance.choice(odd) if self._chance.random() < self._oddness else usual
