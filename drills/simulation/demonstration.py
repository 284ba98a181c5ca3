"""A simulated pupil who plays a whole session through the engine, without a window or a clock."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from drills.cards.card import Kind
from drills.sessions import events
from drills.sessions.effects import Effect
from drills.sessions.practice import Drill
from drills.sessions.view import Phase, View
from drills.simulation.pupils.misreadings import Misreading, misread, misread_as
from drills.simulation.pupils.player import Player, Touch

FRAME_MS = 16.7
HELD_MS = 220.0


SLIPS = 0.36
"""The share of first answers that slip, half as many at the second attempt."""
CLUMSY = 0.25
"""The share of slips that are a brushed neighbour or a handful of keys, not a misreading."""


class DemonstrationPupil:
    """Finds two cards in three at once, misreads others or is clumsy, and learns from help."""

    def __init__(self, seed: int) -> None:
        """Make a pupil; the same seed gives the same pupil."""
        self._random = random.Random(seed)

    def touch(self, view: View, attempt: int) -> Touch:
        """Return the answer to what is shown: the first, or one after so many slips."""
        card = view.card
        assert card is not None
        seconds = self._random.lognormvariate(0.6, 0.4) / attempt
        slips = self._random.random() < SLIPS / attempt
        if card.kind is Kind.KEY or not slips:
            return Touch(seconds, (card.key,))
        if self._random.random() >= CLUMSY:
            return Touch(seconds, (misread(card, self._random),))
        beside = misread_as(card, Misreading.STEP)
        brushed = self._random.choice(beside), card.key
        cluster = tuple(sorted((*beside, card.key)))
        return Touch(seconds, self._random.choice((brushed, cluster)))


def play(drill: Drill, pupil: Player, show: Callable[[View], None]) -> Iterator[Effect]:
    """Yield the effects of a session from beginning to end, and show each view that stays."""
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
