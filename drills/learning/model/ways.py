"""The ways in which a pupil may learn, and how likely each is to be hers.

What differs between pupils is held as a few ways of learning, each with its own beliefs about
every note; the answers tell which of them is hers (Bayesian model averaging). No number of a pupil
is fitted, and none can run away.
"""

from __future__ import annotations

from typing import NamedTuple

from drills.learning.parameters import Parameters


class Way(NamedTuple):
    """A way of learning: by which power of practice the odds of a fluent answer grow, with which
    chance an answer teaches a note altogether, and how much a note just shown is thereby found.
    """

    power: float
    at_once: float
    carry: float


def ways_of_learning(parameters: Parameters) -> tuple[Way, ...]:
    """Return every way of learning: by and by or at once, with little or much carried over."""
    practice = [(power, 0.0) for power in parameters.practice] + [(0.0, parameters.learn_at_once)]
    return tuple(Way(*taught, carry) for taught in practice for carry in parameters.carry)


def weigh(weights: list[float], likelihoods: list[float], change: float) -> list[float]:
    """Return how likely each way is after an answer, with the chance that the way changes."""
    products = [weight * likely for weight, likely in zip(weights, likelihoods, strict=True)]
    kept, other = (1 - change) / sum(products), change / len(products)
    return [kept * product + other for product in products]
