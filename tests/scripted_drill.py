"""A session that a test plays by hand: cards it names, keys it presses, times it sets."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime

from drills.cards.card import Card, Kind
from drills.learning.response import Response, Standing, State
from drills.sessions import events
from drills.sessions.effects import Effect, RememberPiano
from drills.sessions.practice import Drill
from drills.sessions.records import AnsweredRecord, Record
from drills.sessions.view import View
from drills.storage.effect_records import record_of
from landmarks.pitch import Pitch
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE, Clef

STARTED = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
FIVE = built_in_sets()["five"]


def landmark(note: str, clef: Clef = TREBLE) -> Card:
    """A landmark card."""
    pitch = Pitch.parse(note)
    return Card(Kind.LANDMARK, clef, pitch, pitch)


def step(note: str, anchor: str, clef: Clef = TREBLE) -> Card:
    """A step card."""
    return Card(Kind.STEP, clef, Pitch.parse(note), Pitch.parse(anchor))


TREBLE_G = landmark("G4")
BASS_F = landmark("F3", BASS)
A_ABOVE_G = step("A4", "G4")
KEY_G = Card(Kind.KEY, TREBLE, Pitch.parse("G4"), Pitch.parse("G4"))


def records_of(effects: Iterable[Effect]) -> list[Record]:
    """What a session file tells of effects."""
    return [record for effect in effects if (record := record_of(effect)) is not None]


class ListedCards:
    """A planner that asks the cards it was given, in their order, and then ends the session."""

    def __init__(self, cards: Iterable[Card], state: State = State.PENCIL) -> None:
        self._cards = iter(cards)
        self._state = state
        self.asked: list[datetime] = []
        self.heard: list[Response] = []

    def next(self, now: datetime) -> Card | None:
        self.asked.append(now)
        return next(self._cards, None)

    def record(self, response: Response) -> None:
        self.heard.append(response)

    def standing(self, card: Card, now: datetime) -> Standing:
        return Standing(0.0, None, None, self._state, "as listed")


class PlayedDrill:
    """A drill at a time `t` (milliseconds), begun, its first card on the screen at 0."""

    def __init__(
        self,
        *cards: Card,
        begun: bool = True,
        state: State = State.PENCIL,
        introduces: bool = False,
    ) -> None:
        self.planner = ListedCards(cards, state)
        self.drill = Drill(self.planner, STARTED, introduces=introduces)
        self.t = 0.0
        self.effects: list[Effect] = []
        if begun:
            self.feed(events.Begin())
            self.look()

    def feed(self, event: events.Event, at: float | None = None) -> None:
        """Let something happen now, or at a time of its own."""
        self.effects += self.drill.handle(event, self.t if at is None else at)

    def look(self) -> None:
        """Put the card on the screen now."""
        self.feed(events.OnScreen(self.view.showing))

    def wait(self, milliseconds: float) -> None:
        """Let time pass."""
        self.t += milliseconds
        self.feed(events.TimePassed())

    def press(self, *keys: int, apart: float = 5) -> None:
        """Press keys together, the first one now and each further one a little later."""
        for place, key in enumerate(keys):
            self.feed(events.KeyPressed(key), self.t + apart * place)
        self.t += apart * (len(keys) - 1)

    def release(self, *keys: int) -> None:
        """Let keys up."""
        for key in keys:
            self.feed(events.KeyReleased(key))

    def play(self, *keys: int, after: float = 1000) -> None:
        """Wait, press keys together, let the touch settle and let them up."""
        self.wait(after)
        self.press(*keys)
        self.wait(100)
        self.release(*keys)

    def go_on(self) -> None:
        """Wait for the next card and put it on the screen."""
        self.wait(3000)
        self.look()

    @property
    def view(self) -> View:
        return self.drill.view

    @property
    def records(self) -> list[Record]:
        """All that was written."""
        return records_of(self.effects)

    @property
    def answers(self) -> list[AnsweredRecord]:
        """The answers that were written."""
        return [record for record in self.records if isinstance(record, AnsweredRecord)]

    @property
    def remembered(self) -> list[RememberPiano]:
        """What was to be remembered of pianos."""
        return [effect for effect in self.effects if isinstance(effect, RememberPiano)]
