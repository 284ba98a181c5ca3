"""All the places that a player may have gone to, kept at once.

A hidden Markov model over the events of the whole score whose transitions are a narrow band about
each place and an outer product for jumps (Nakamura et al. 2014, arXiv 1404.2313), so that a press
costs time proportional to the score's length. It knows no tempo; it finds where an account of its
own is worth having.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from landmarks.following.events import ScoreEvents
from landmarks.following.parameters import FollowingParameters
from landmarks.following.timeline import wait_density

# From the event of one press to that of the next: back, the same (a chord), on, one or two passed.
_BAND = ((-1, 0.02), (0, 0.3), (1, 0.6), (2, 0.06), (3, 0.02))
_PADDING = 3
_EXTRA_KEY = 1 / 30


class JumpField:
    """The probability of every event to be where a player has jumped to, relative to the accounts."""

    def __init__(self, events: ScoreEvents, facts: FollowingParameters) -> None:
        self._events = events
        self._facts = facts
        count = len(events.onsets)
        self._mass = np.zeros(count + 2 * _PADDING)
        self._places = np.arange(count)
        self._begun = False

    def hear(self, key: int, wait: float, accounts: float, place: int) -> None:
        """Move the mass on by a press; `accounts` is the probability of all the other accounts.

        `place` is the event the player is held to be at, -1 before the beginning.
        """
        facts = self._facts
        where = self._events.events_of_key.get(key)
        mass = self._mass
        if where is None:
            mass *= facts.extra * _EXTRA_KEY * wait_density(wait, facts.unforetold)
            self._begun = True
            return
        at = where + _PADDING
        arriving = sum(
            (share * mass[at - step] for step, share in _BAND), start=np.zeros(len(where))
        )
        arriving *= wait_density(wait, facts.unforetold)
        if self._begun:
            pause = wait_density(wait, facts.jump_pause)
            arriving += accounts * facts.jump * pause * self._destinations(where, place)
        else:
            start = wait_density(wait, facts.unforetold) / len(self._places)
            arriving += (1 - facts.begins_at_beginning) * start
        mass *= facts.extra * _EXTRA_KEY * wait_density(wait, facts.unforetold)
        mass[at] += arriving
        self._begun = True

    def scale(self, factor: float) -> None:
        """Multiply all the mass by a factor."""
        self._mass *= factor

    def likeliest(self, key: int, count: int) -> list[tuple[int, float]]:
        """Return the events of a key with the most mass, and that mass, greatest first."""
        where = self._events.events_of_key.get(key)
        if where is None:
            return []
        masses = self._mass[where + _PADDING]
        best = np.argsort(masses)[::-1][:count]
        return [(int(where[index]), float(masses[index])) for index in best]

    def take(self, event: int) -> None:
        """Leave an event to an account of its own."""
        self._mass[event + _PADDING] = 0.0

    def _destinations(self, where: NDArray[np.intp], place: int) -> NDArray[np.float64]:
        """Return the probability of each event to be jumped to from a place."""
        facts = self._facts
        away = (where - place).astype(float)
        back, forward = facts.jump_back_reach, facts.jump_forward_reach
        near = np.where(
            away <= 0,
            facts.jump_back / back * np.exp(np.minimum(away, 0.0) / back),
            facts.jump_forward / forward * np.exp(-np.maximum(away, 0.0) / forward),
        )
        anywhere = 1 - facts.jump_back - facts.jump_forward - facts.jump_to_beginning
        beginning = np.where(where == 0, facts.jump_to_beginning, 0.0)
        return np.asarray(near + beginning + anywhere / len(self._places))
