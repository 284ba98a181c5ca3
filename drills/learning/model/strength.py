"""How well one note is known: a belief over the log odds of a fluent answer, read cold.

The belief is a list of probabilities, one for each of a row of levels. The level of a note is the
log odds that it is answered right and in fluent time a day after it was last read, by a pupil who
attends. Three things move it:

- **Practice** raises the odds by a power of the number of answers (the power law of practice,
  Newell and Rosenbloom 1981): from the n-th answer to the next the log odds grow by
  power * ln((n + 1) / n). A pupil who learns at once goes, with some chance, from not knowing a
  note to knowing it (knowledge tracing, Corbett and Anderson 1995).
- **Absence** lowers the odds by a power of the days (the power law of forgetting, Wixted and
  Carpenter 2007, in its odds form): after d days they are d^-power times those after one, until
  the note is read again. So the level is the note's stability, too: the higher, the longer it
  stays above any bound. Practice day by day can raise it only so far, for it does not show what
  absence would leave; what is answered after an absence shows it, and raises it further.
- An **answer** weighs each level by how likely the answer is at it.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log
from operator import mul

from drills.learning.parameters import Parameters

LOWEST, HIGHEST, STEP = -4.0, 8.0, 1.0
"""The levels, in log odds: the ends lie beyond what any answers can tell apart (numerics)."""
LEVELS = tuple(LOWEST + STEP * index for index in range(round((HIGHEST - LOWEST) / STEP) + 1))
MOST_RISE = 0.9
"""The largest share of a belief that one answer's practice moves one level up (numerics)."""

Belief = Sequence[float]


def logistic(log_odds: float) -> float:
    """Return a probability from its log odds.

    >>> logistic(0.0)
    0.5
    """
    return 1 / (1 + exp(-log_odds))


class Strengths:
    """What parameters make of beliefs over the levels."""

    def __init__(self, parameters: Parameters) -> None:
        """Work out the shares and priors that stay as they are."""
        self._parameters = parameters
        self.most = 1 - parameters.inattention
        """The largest share of fluent answers, however well a note is known."""
        self.shares = tuple(self.most * logistic(level) for level in LEVELS)
        """The share of fluent answers at each level, read cold."""
        self.known = _bell(parameters.known_level, parameters.level_spread)
        """The belief about a note that is known."""
        self.unknown = _bell(parameters.unknown_level, parameters.level_spread)
        """The belief about a note that is not known."""
        needed = parameters.secured_share / self.most
        self.secured_level = log(needed / (1 - needed))
        """The level from which a note is secured."""
        self._practised = sum(level < parameters.practised_level for level in LEVELS)
        self._not_secured = sum(level < self.secured_level for level in LEVELS)

    def prior(self, known: float) -> list[float]:
        """Return the belief about a note that is known with probability `known`."""
        return [
            known * sure + (1 - known) * unsure
            for sure, unsure in zip(self.known, self.unknown, strict=True)
        ]

    def shares_after(self, fallen: float) -> tuple[float, ...]:
        """Return the share of fluent answers at each level after its log odds have `fallen`."""
        if not fallen:
            return self.shares
        return tuple(self.most * logistic(level - fallen) for level in LEVELS)

    def rest(self, belief: Belief) -> list[float]:
        """Return the belief after a rest, with the chance that the note was lost."""
        lapse = self._parameters.lapse
        return [
            (1 - lapse) * share + lapse * lost
            for share, lost in zip(belief, self.unknown, strict=True)
        ]

    def practise(
        self, belief: Belief, power: float, at_once: float, answers: int, total: float = 1.0
    ) -> list[float]:
        """Return the belief after an answer and its feedback, with so many answers before.

        `belief` may still add up to `total`; what is returned adds up to 1.
        """
        rise = min(MOST_RISE, power * log((answers + 2) / (answers + 1)) / STEP) / total
        stay, top, scale = 1 / total - rise, self._practised, 1 / total
        if power:
            risen = [stay * belief[0]]
            risen += [
                stay * here + rise * below
                for here, below in zip(belief[1:top], belief, strict=False)
            ]
            risen += [scale * share for share in belief[top:]]
            risen[top] += rise * belief[top - 1]
        else:
            risen = [scale * share for share in belief]
        if not at_once:
            return risen
        low = self._not_secured
        moved = at_once * sum(risen[:low])
        kept = [(1 - at_once) * share for share in risen[:low]] + risen[low:]
        return [share + moved * known for share, known in zip(kept, self.known, strict=True)]

    def fluent(self, belief: Belief, fallen: float = 0.0) -> float:
        """Return the expected share of fluent answers, read cold, after levels have `fallen`."""
        return float(sum(map(mul, belief, self.shares_after(fallen))))

    def secured(self, belief: Belief, fallen: float = 0.0) -> float:
        """Return the probability that a note is secured after its log odds have `fallen`.

        Between levels the belief is taken to be spread evenly.
        """
        place = max(0.0, (self.secured_level + fallen - LOWEST) / STEP + 0.5)
        whole = int(place)
        if whole >= len(belief):
            return 0.0
        return sum(belief[whole + 1 :]) + (whole + 1 - place) * belief[whole]


def _bell(mean: float, spread: float) -> tuple[float, ...]:
    """Return a belief in the shape of a normal distribution."""
    weights = [exp(-0.5 * ((level - mean) / spread) ** 2) for level in LEVELS]
    return tuple(weight / sum(weights) for weight in weights)
