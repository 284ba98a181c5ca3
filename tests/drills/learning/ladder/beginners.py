"""Invented beginners who play through the engine, day by day, and write session files."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from drills.app.session_clock import SessionClock
from drills.learning.ladder.chooser import LadderChooser
from drills.learning.ladder.material import ladder_cards
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.sessions.practice import Drill
from drills.sessions.records import RungReachedRecord
from drills.simulation.demonstration import play
from drills.simulation.pupils.beginner import Beginner
from drills.storage.recorder import Recorder
from drills.storage.session_file import Session, read_session
from drills.storage.studio import Studio
from tests.scripted_drill import FIVE

CARDS = ladder_cards(FIVE)


class Course:
    """A beginner's days: sessions through the engine, in a studio."""

    def __init__(self, folder: Path, beginnings: Observations, beginner: Beginner) -> None:
        self.studio = Studio(folder)
        self.pupil = self.studio.pupil(beginnings.pupil)
        self.beginnings = beginnings
        self._beginner = beginner

    def day(self, at: datetime, seed: int) -> tuple[RungReachedRecord, ...]:
        """Practise once; give what the session file says of the ladder."""
        history = list(self.pupil.responses())
        chooser = LadderChooser(
            CARDS,
            prior_knowledge_of(self.beginnings),
            history,
            self.beginnings.decisions,
            seed,
            minutes=6,
        )
        drill = Drill(chooser, at, climb=chooser)
        clock = SessionClock(at, 0)
        recorder = Recorder(self.studio, self.pupil, FIVE, seed, clock, "simulated")
        for effect in play(drill, self._beginner, lambda view: None):
            recorder.carry_out(effect)
        recorder.close()
        self.chooser = chooser
        return tuple(e for e in self.session().events if isinstance(e, RungReachedRecord))

    def session(self) -> Session:
        """Give the latest session as its file tells it."""
        return read_session(self.pupil.session_files()[-1])

    def days(self, first: datetime, count: int) -> list[RungReachedRecord]:
        """Practise on so many days, one after another."""
        told: list[RungReachedRecord] = []
        for day in range(count):
            told += self.day(first + timedelta(days=day), seed=day)
        return told
