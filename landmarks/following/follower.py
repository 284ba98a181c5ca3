"""The follower: accounts of what was heard, weighed against each other at every press."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from landmarks.following.events import FollowedNote, ScoreEvents
from landmarks.following.hypothesis import Continuation, Hypothesis, before_beginning
from landmarks.following.jumps import JumpField
from landmarks.following.parameters import DEFAULTS, FollowingParameters

_ACCOUNTS = 24
_CROWD = 4
_FAINTEST = -14.0
_WORTH_AN_ACCOUNT = 1e-3
_PROMOTED = 3


@dataclass(frozen=True)
class Heard:
    """What a press was taken for: the note it plays, and the probability of that.

    `note` is the index among the notes handed to the follower, None for a wrong or extra key.
    """

    note: int | None
    probability: float


class Follower:
    """Which note of a score each key press plays, told as it is pressed.

    `notes` are a score's notes in its order. Before the first press `position` is the first
    onset. Time is only what is handed in, in ms, never falling.

    Raises: ValueError where there are no notes.
    """

    def __init__(
        self, notes: Sequence[FollowedNote], parameters: FollowingParameters = DEFAULTS
    ) -> None:
        """Make ready for a score of which nothing is heard."""
        if not notes:
            raise ValueError("a follower needs at least one note")
        self._events = ScoreEvents.of(notes)
        self._continuation = Continuation(self._events, parameters)
        self._jumps = JumpField(self._events, parameters)
        self._accounts = [before_beginning(0.0)]
        self._last_ms: float | None = None
        self._last_key: int | None = None
        self._way = 0.0
        self._first_wait = parameters.unforetold
        self._position = self._events.onsets[0]

    @property
    def position(self) -> Fraction:
        """The onset, in quarter notes, of the note that the player stands at."""
        return self._position

    def hear(self, key: int, ms: float) -> Heard:
        """Take in a press of a MIDI key at a time in ms; return what it was taken for."""
        wait = self._first_wait if self._last_ms is None else max(ms - self._last_ms, 0.0)
        self._last_ms = ms
        best = self._accounts[0]
        total = sum(math.exp(account.weight) for account in self._accounts)
        grown = [
            (child, child.weight - account.weight)
            for account in self._accounts
            for child in self._continuation.after(account, key, ms, wait, self._last_key)
        ]
        likeliest, gain = max(grown, key=lambda pair: pair[0].weight)
        # A key brushed on arrival is no place to have moved to: the way began before it.
        way = wait + self._way
        played = likeliest.played is not None
        self._way = 0.0 if played else wait
        self._jumps.hear(key, wait, way, total, best.event, played, math.exp(gain))
        children = [child for child, _gain in grown]
        children += self._landings(key, ms, best, likeliest.weight)
        self._last_key = key
        self._accounts = self._kept(children)
        return self._judge(children)

    def _landings(self, key: int, ms: float, best: Hypothesis, top: float) -> list[Hypothesis]:
        found = []
        for event, mass in self._jumps.likeliest(key, _PROMOTED):
            if mass <= math.exp(top) * _WORTH_AN_ACCOUNT:
                break
            note = self._events.note_at(event, key)
            assert note is not None
            found.append(self._continuation.landed(note, ms, best.timeline, math.log(mass)))
            self._jumps.take(event)
        return found

    def _kept(self, children: list[Hypothesis]) -> list[Hypothesis]:
        """Return the accounts worth keeping, the likeliest first and with log weight 0."""
        children.sort(key=lambda child: child.weight, reverse=True)
        top = children[0].weight
        self._jumps.scale(math.exp(-top))
        crowds: dict[int, int] = {}
        kept: dict[tuple[object, ...], Hypothesis] = {}
        for child in children:
            like = (child.event, child.pending)
            if like in kept:
                continue
            crowd = crowds.get(child.event, 0)
            if child.weight > top + _FAINTEST and len(kept) < _ACCOUNTS and crowd < _CROWD:
                crowds[child.event] = crowd + 1
                kept[like] = child._replace(settled=child.settled - top, weight=child.weight - top)
            elif child.event >= 0:
                self._jumps.give_back(child.event, math.exp(child.weight - top))
        return list(kept.values())

    def _judge(self, children: list[Hypothesis]) -> Heard:
        top = children[0].weight
        shares: dict[int | None, float] = {}
        for child in children:
            share = math.exp(child.weight - top)
            shares[child.played] = shares.get(child.played, 0.0) + share
        note = max(shares, key=lambda played: shares[played])
        at = note if note is not None else self._accounts[0].at
        if at is not None:
            self._position = self._events.onsets[self._events.event_of[at]]
        return Heard(note, shares[note] / sum(shares.values()))
