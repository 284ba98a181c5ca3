"""The hand of a simulated pupil: how long it takes to press a key that is known."""

from __future__ import annotations

from dataclasses import dataclass
from math import erf, exp, log, sqrt
from random import Random

FLUENT_FACTOR, FLUENT_CAP = 2.5, 4.0
"""A simulated pupil is fluent as the design defines it: within this many key-finding times, at
most this many seconds."""
KEY_SCATTER = 0.25
"""Standard deviation of the logarithm of single key-finding times (prior, no source)."""


@dataclass(frozen=True)
class Hand:
    """A pupil's key-finding: `key_seconds` is its median."""

    key_seconds: float

    @property
    def fluent_seconds(self) -> float:
        """The time within which an answer is fluent."""
        return min(FLUENT_CAP, FLUENT_FACTOR * self.key_seconds)

    def sample(self, random: Random) -> float:
        """Return the seconds of one key press."""
        return self.key_seconds * exp(random.gauss(0, KEY_SCATTER))


def hand_of_age(age: float, random: Random) -> Hand:
    """Return a hand for an age in years: about 1.3 s at six, 0.8 s at eleven.

    Choice reaction time falls by about a tenth a year through childhood (Kail 1991, from memory);
    pupils of one age differ by a fifth.
    """
    return Hand(max(0.7, 1.3 * exp(-0.1 * (age - 6)) * exp(random.gauss(0, 0.2))))


def lognormal_within(seconds: float, median: float, spread: float) -> float:
    """Return the share of a lognormal distribution within `seconds`; none when that is negative."""
    if seconds <= 0:
        return 0.0
    return 0.5 * (1 + erf(log(seconds / median) / (spread * sqrt(2))))
