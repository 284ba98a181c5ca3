"""What is believed about how a card is read: a hidden Markov chain over levels.

The belief is a list of probabilities, one for each of `LEVELS`. A level is a way of reading the
card, cold and attentive, with its share of right answers: *worked out* (guessed, or counted up
from somewhere: right or not, it takes long) or *known* (right but for slips, in the pupil's own
time). Answers with feedback move the belief up, rests move it down.
"""

from __future__ import annotations

WORKED_OUT = (0.05, 0.2, 0.4, 0.6, 0.8, 0.95)
KNOWN = (0.5, 0.7, 0.8, 0.86, 0.9, 0.925, 0.945, 0.96, 0.975, 0.99)
MISSES = tuple(1 - right for right in KNOWN)
LUCK = tuple(1 - right for right in WORKED_OUT)
LEVELS = WORKED_OUT + KNOWN
SPLIT = len(WORKED_OUT)
"""Levels before this index are worked out, from it on they are known."""
AT_FIRST = (0.2, 0.25, 0.2, 0.15, 0.1, 0.1)
"""How cards that are not known are read, before any evidence (prior)."""
SLIPS = (0.005, 0.015, 0.04, 0.06, 0.08, 0.1, 0.13, 0.18, 0.23, 0.16)
"""How often known cards are slipped on, before any evidence: mostly 1 to 6 in 100, at most 10 in
knowledge tracing (Corbett and Anderson 1995, from memory), with a tail for quick confusers."""
SETTLING = 0.07
"""How far one answer draws a card's slips towards the pupil's usual ones (prior, revised by hand
after looking at simulated pupils: first 0.04)."""

Belief = list[float]


def prior(known: float, slips: tuple[float, ...] = SLIPS) -> Belief:
    """Believe that the card is known with probability `known`."""
    return [*[(1 - known) * share for share in AT_FIRST], *[known * share for share in slips]]


def weighed(belief: Belief, likelihoods: list[float]) -> tuple[Belief, float]:
    """Weigh the belief by an answer's likelihood at each level; give the answer's probability."""
    products = [share * likely for share, likely in zip(belief, likelihoods, strict=True)]
    total = sum(products)
    return [product / total for product in products], total


def known(belief: Belief) -> float:
    """Give the probability that the card is known."""
    return sum(belief[SPLIT:])


def mean(belief: Belief) -> float:
    """Give the expected share of right answers."""
    return sum(map(float.__mul__, LEVELS, belief))


def practised(belief: Belief, learn: float, slips: tuple[float, ...]) -> Belief:
    """Move the belief up after an answer with its feedback.

    With probability `learn` a card that was worked out becomes known; short of that it may rise
    one level. `slips` is how the pupil usually slips on known cards.
    """
    low, high = belief[:SPLIT], belief[SPLIT:]
    total = sum(high)
    stay = 1 - SETTLING
    fresh = learn * (1 - total) + SETTLING * total
    keep, rise = (1 - learn) ** 2, (1 - learn) * learn
    risen = [keep * share for share in low]
    for index in range(SPLIT - 1):
        risen[index + 1] += rise * low[index]
    risen[-1] += rise * low[-1]
    return risen + [stay * share + fresh * slip for share, slip in zip(high, slips, strict=True)]


def rested(belief: Belief, retention: float) -> Belief:
    """Move the belief down after a rest: with probability 1 - `retention` the card is lost."""
    lost = (1 - retention) * known(belief)
    low = [share + lost * part for share, part in zip(belief, AT_FIRST, strict=False)]
    return low + [retention * share for share in belief[SPLIT:]]


def tilted(belief: Belief, odds: float) -> Belief:
    """Multiply the odds of knowing the card by `odds`."""
    return weighed(belief, [1.0] * SPLIT + [odds] * len(KNOWN))[0]
