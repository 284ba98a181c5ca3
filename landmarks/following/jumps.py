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
from landmarks.following.timeline import move_density, wait_density

# From the event of one press to that of the next: the same (a chord), on, one or two passed; what
# each is worth beside going on. No more is allowed than an account can do, lest a place of the
# same passage gain on the one that an account holds.
_BAND = ((0, 1.0), (1, 1.0), (2, 0.04), (3, 0.004))
_STAYING = 0
_PADDING = 3
_EXTRA_KEY = 1 / 30
_GOES_ON = 0.5
# She begins anew rather on a beat than between two (common practice, no source).
_ON_BEAT = 3.0


class JumpField:
    """For every event the probability that the player has jumped to it, beside the accounts'.

    `facts` are what is held of players.
    """

    def __init__(self, events: ScoreEvents, facts: FollowingParameters) -> None:
        """Begin with a score of which nothing is heard."""
        self._events = events
        self._facts = facts
        count = len(events.onsets)
        self._mass = np.zeros(count + 2 * _PADDING)
        self._entered = np.zeros(count + 2 * _PADDING, dtype=np.intp)
        self._pressed_at: dict[int, int] = {}
        self._presses = 0
        on_beat = np.array([onset.denominator == 1 for onset in events.onsets])
        self._beats = np.where(on_beat, _ON_BEAT, 1.0)
        self._beats /= self._beats.mean()

    def hear(
        self,
        key: int,
        wait: float,
        way: float,
        accounts: float,
        place: int,
        played: bool,
        gain: float,
    ) -> None:
        """Move the mass on by a press `wait` ms after the last.

        `way` is the time there was to move the hand in. `accounts` is the probability of all the
        other accounts, `place` the event the player is held to be at, -1 before the beginning;
        `played` tells whether the likeliest account has the press play a note, and `gain` by how
        much the press changed its probability: where the same passage stands elsewhere it does
        not gain on it.
        """
        facts = self._facts
        unforetold = wait_density(wait, facts.unforetold)
        on = gain if played else _GOES_ON * unforetold
        beside = facts.extra * _EXTRA_KEY * unforetold if played else gain
        where = self._events.events_of_key.get(key)
        pressed_before = self._pressed_at.get(key, -1)
        self._presses += 1
        self._pressed_at[key] = self._presses
        mass = self._mass
        if where is None:
            mass *= beside
            return
        at = where + _PADDING
        arriving = np.array([share * mass[at - step] for step, share in _BAND])
        # A key that was pressed since the event was entered is not among what is still awaited.
        arriving[_STAYING] *= np.where(pressed_before >= self._entered[at], facts.struck_again, 1.0)
        step = arriving.argmax(axis=0)
        coming = on * arriving.max(axis=0)
        if self._presses > 1:
            pause = move_density(way, facts.jump_pause)
            new = accounts * facts.jump * pause * self._destinations(where, place)
        else:
            new = np.full(
                len(where), (1 - facts.begins_at_beginning) * unforetold / len(self._beats)
            )
        mass *= beside
        stays = (step == _STAYING) & (coming >= new)
        best = np.maximum(coming, new)
        changed = best > mass[at]
        self._entered[at[changed & ~stays]] = self._presses
        mass[at] = np.maximum(mass[at], best)

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

    def give_back(self, event: int, mass: float) -> None:
        """Take over the place of an account that is given up."""
        self._mass[event + _PADDING] = max(self._mass[event + _PADDING], mass)

    def _destinations(self, where: NDArray[np.intp], place: int) -> NDArray[np.float64]:
        """Return the probability of each event to be jumped to from a place."""
        facts = self._facts
        away = (where - place).astype(float)
        back, forward = facts.jump_back_reach, facts.jump_forward_reach
        near = np.where(
            away <= 0,
            facts.jump_back * back / (back - np.minimum(away, 0.0)) ** 2,
            facts.jump_forward * forward / (forward + np.maximum(away, 0.0)) ** 2,
        )
        beginning = np.where(where == 0, facts.jump_to_beginning, 0.0)
        passed = np.where(away <= 0, facts.jump_to_passed / max(place + 1, 1), 0.0)
        rest = (
            1
            - facts.jump_back
            - facts.jump_forward
            - facts.jump_to_beginning
            - facts.jump_to_passed
        ) / len(self._beats)
        return np.asarray((near + beginning + passed + rest) * self._beats[where])
