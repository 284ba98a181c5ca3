"""Invented beginners who play through the engine, day by day, and write session files."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from pathlib import Path

from drills.asking import asking
from drills.beginnings.brought import brought
from drills.beginnings.record import Beginnings
from drills.card import Card, Kind
from drills.demonstrate import Touch, play
from drills.ladder.chooser import LadderChooser
from drills.ladder.material import ladder_cards
from drills.log import RungReached, Session, read_session
from drills.recorder import Recorder, SessionClock
from drills.session import Drill
from drills.studio import Studio
from drills.view import View
from landmarks.answer import Verdict
from tests.scripted_drill import FIVE

CARDS = ladder_cards(FIVE)


class Beginner:
    """Has skills from 0 to 1, by what a card asks, and learns a little from every answer."""

    def __init__(self, seed: int, learns: float = 0.12, **skills: float) -> None:
        self._random = random.Random(seed)
        self._learns = learns
        self._skills = skills
        self._known: dict[Card, float] = {}

    def touch(self, view: View, attempt: int) -> Touch:
        card = view.card
        assert card is not None
        right = self._random.random() < self._known_share(card, view)
        seconds = self._random.lognormvariate(0.2, 0.3)
        return Touch(seconds, (self._key(card, view, right),))

    def _known_share(self, card: Card, view: View) -> float:
        name = skill_of(card)
        if name == "lit":
            return 0.97
        slot = card if name in ("treble", "bass") else name
        share = self._known.get(slot, self._skills.get(name, 0.05))
        if name in ("treble", "bass") and card.form:
            share = max(share, self._skills.get("steps", 0.5))
        self._known[slot] = share + (0.97 - share) * self._learns
        return share if view.help <= asking(card).first_help else 0.95

    def _key(self, card: Card, view: View, right: bool) -> int:
        how = asking(card)
        keys = [key for key in range(21, 109) if key != view.last or view.move]
        good = [k for k in keys if how.judged(k, view.move, view.last).verdict is Verdict.EXACT]
        bad = [k for k in keys if k not in good and abs(k - card.key) < 8]
        chosen = good if right or not bad else bad
        near = [key for key in chosen if abs(key - (view.last or card.key)) < 6]
        return self._random.choice(near or chosen)


def skill_of(card: Card) -> str:
    """What a beginner must be able to do for a card."""
    match card.kind, card.form:
        case Kind.CONTOUR, _:
            return "shapes"
        case Kind.KEY, "":
            return "lit"
        case Kind.KEY, form:
            return form
    return card.clef.name


class Course:
    """A beginner's days: sessions through the engine, in a studio."""

    def __init__(self, folder: Path, beginnings: Beginnings, beginner: Beginner) -> None:
        self.studio = Studio(folder)
        self.pupil = self.studio.pupil(beginnings.pupil)
        self.beginnings = beginnings
        self._beginner = beginner

    def day(self, at: datetime, seed: int) -> tuple[RungReached, ...]:
        """Practise once; give what the session file says of the ladder."""
        history = list(self.pupil.responses())
        chooser = LadderChooser(
            CARDS, brought(self.beginnings), history, self.beginnings.decisions, seed, minutes=6
        )
        drill = Drill(chooser, FIVE, at, climb=chooser)
        clock = SessionClock(at, 0)
        recorder = Recorder(self.studio, self.pupil, FIVE, seed, clock, "simulated")
        for effect in play(drill, self._beginner, lambda view: None):
            recorder.carry_out(effect)
        recorder.close()
        self.chooser = chooser
        return tuple(e for e in self.session().events if isinstance(e, RungReached))

    def session(self) -> Session:
        """Give the latest session as its file tells it."""
        return read_session(self.pupil.session_files()[-1])

    def days(self, first: datetime, count: int) -> list[RungReached]:
        """Practise on so many days, one after another."""
        told: list[RungReached] = []
        for day in range(count):
            told += self.day(first + timedelta(days=day), seed=day)
        return told
