"""Distributions of response times, over logarithms of seconds.

The median time of a known card is believed normal in its logarithm, and single times scatter
around it with a logistic distribution of the logarithm, whose tails are longer than the
normal's, as those of response times are (Wagenmakers and Brown 2007, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erf, exp, log, pi, sqrt

LOGISTIC = sqrt(3) / pi
"""Scale of a logistic distribution whose standard deviation is 1."""


@dataclass(slots=True)
class Pace:
    """A belief about the logarithm of a card's median time: normal, with mean and variance."""

    mean: float
    variance: float

    def seen(self, surprise: float, scatter: float, trust: float) -> None:
        """Take in a log time that came `surprise` above the mean: a Kalman step.

        `scatter` is the variance of single times, `trust` (0 to 1) the probability that the
        time tells of this card at all.
        """
        gain = trust * self.variance / (self.variance + scatter)
        self.mean += gain * surprise
        self.variance *= 1 - gain

    def below(self, log_seconds: float) -> float:
        """Give the probability that the median lies below a log time."""
        return normal_below((log_seconds - self.mean) / sqrt(self.variance))


def normal_below(distance: float) -> float:
    """Give the standard normal distribution function."""
    return 0.5 * (1 + erf(distance / sqrt(2)))


def normal_density(value: float, mean: float, spread: float) -> float:
    """Give the normal density."""
    distance = (value - mean) / spread
    return exp(-0.5 * distance * distance) / (spread * sqrt(2 * pi))


def logistic_density(value: float, mean: float, spread: float) -> float:
    """Give the logistic density with standard deviation `spread`."""
    scale = spread * LOGISTIC
    tail = exp(-abs(value - mean) / scale)
    return tail / (scale * (1 + tail) ** 2)


def logistic_below(value: float, mean: float, spread: float) -> float:
    """Give the logistic distribution function with standard deviation `spread`."""
    return 1 / (1 + exp((mean - value) / (spread * LOGISTIC)))


def logistic_quantile(share: float, spread: float) -> float:
    """Give how far above the mean a logistic distribution has `share` below it."""
    return spread * LOGISTIC * log(share / (1 - share))
