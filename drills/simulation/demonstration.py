"""A simulated pupil who plays a whole session through the engine, without a window or a clock."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol

from drills.cards.card import Card, Kind
from drills.sessions import events
from drills.sessions.effects import Effect
from drills.sessions.practice import Drill
from drills.sessions.view import Phase, View
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY
from landmarks.stave import other_clef

SLIPS = ("step", "step", "step", "octave", "clef", "direction", "brushed", "cluster")
FRAME_MS = 16.7
HELD_MS = 220.0


@dataclass(frozen=True)
class Touch:
    """What the pupil does next: keys that go down together, so many seconds after the card."""

    seconds: float
    keys: tuple[int, ...]


class Player(Protocol):
    """Whoever plays a session."""

    def touch(self, view: View, attempt: int) -> Touch:
        """Answer what is shown, for the first time (attempt 1) or after so many slips."""


class DemonstrationPupil:
    """Finds two cards in three at once, makes every kind of slip, and learns from help."""

    def __init__(self, seed: int) -> None:
        """Make a pupil; the same seed gives the same pupil."""
        self._random = random.Random(seed)

    def touch(self, view: View, attempt: int) -> Touch:
        """Answer what is shown, for the first time (attempt 1) or after so many slips."""
        card = view.card
        assert card is not None
        seconds = self._random.lognormvariate(0.6, 0.4) / attempt
        slips = self._random.random() < 0.36 / attempt
        if card.kind is Kind.KEY or not slips:
            return Touch(seconds, (card.key,))
        keys = self._slip(card)
        on_piano = all(LOWEST_PIANO_KEY <= key <= HIGHEST_PIANO_KEY for key in keys)
        return Touch(seconds, keys if on_piano else (card.key,))

    def _slip(self, card: Card) -> tuple[int, ...]:
        match self._random.choice(SLIPS):
            case "octave":
                return (card.key + self._random.choice((-12, 12)),)
            case "clef":
                return (other_clef(card.clef).pitch_at(card.clef.position(card.target)).midi,)
            case "direction" if card.steps:
                return (card.anchor.stepped(-card.steps).midi,)
            case "brushed":
                return (card.target.stepped(1).midi, card.key)
            case "cluster":
                return tuple(card.target.stepped(step).midi for step in (-1, 0, 1))
            case _:
                return (card.target.stepped(self._random.choice((-2, -1, 1, 2))).midi,)


def play(drill: Drill, pupil: Player, show: Callable[[View], None]) -> Iterator[Effect]:
    """Play a session from beginning to end; give its effects, and show each view that stays."""
    t = 0.0
    yield from drill.handle(events.Begin(), t)
    attempt, showing = 1, 0
    while drill.view.phase is not Phase.FINISHED:
        view = drill.view
        if view.phase is Phase.RIGHT:
            t = drill.due or t
            yield from drill.handle(events.TimePassed(), t)
            continue
        if view.showing != showing:
            t, attempt, showing = t + FRAME_MS, 1, view.showing
            yield from drill.handle(events.OnScreen(showing), t)
        touch = pupil.touch(view, attempt)
        t += touch.seconds * 1000
        yield from _touched(drill, touch, t)
        t += HELD_MS
        attempt += 1
        show(drill.view)


def _touched(drill: Drill, touch: Touch, t: float) -> Iterator[Effect]:
    for place, key in enumerate(touch.keys):
        yield from drill.handle(events.KeyPressed(key), t + 8 * place)
    yield from drill.handle(events.TimePassed(), drill.due or t)
    for key in touch.keys:
        yield from drill.handle(events.KeyReleased(key), t + HELD_MS)
