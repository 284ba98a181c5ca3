"""Who races: this program's planner, the published rivals, and the greedy oracle."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from drills.cards.card import Card
from drills.learning.planner import Planner
from drills.simulation.benchmark.course import Plan
from drills.simulation.benchmark.practice import Chooser
from drills.simulation.benchmark.rivals import RIVALS, Rival
from drills.simulation.pupils import SimulatedPupil

ORACLE, OURS = "greedy oracle", "this program"


class GreedyOracle(Rival):
    """Sees the pupil's mind: the card not secured whose cold share one answer raises most.

    It looks one answer ahead and no further, so it is no bound: where an answer pays only after a
    night, or only together with others, a plain schedule can need fewer cards.
    """

    def __init__(self, cards: Sequence[Card], pupil: SimulatedPupil) -> None:
        """Look into `pupil`."""
        super().__init__(cards)
        self._pupil = pupil

    def choose(self, free: list[Card], now: datetime) -> Card:
        """Choose the largest gain among cards not secured, or among all."""
        missing = [card for card in free if not self._pupil.secured(card, now)]
        return max(missing or free, key=lambda card: self._pupil.gain(card, now))


def our_planner(cards: Sequence[Card], pupil: SimulatedPupil, seed: int, plan: Plan) -> Chooser:
    """Return this program's planner, which does not look into the pupil."""
    return Planner(cards, seed=seed, minutes=plan.minutes)


def greedy_oracle(cards: Sequence[Card], pupil: SimulatedPupil, seed: int, plan: Plan) -> Chooser:
    """Return the oracle that looks into the pupil."""
    return GreedyOracle(cards, pupil)


class Published:
    """Makes a published rival by its name."""

    def __init__(self, name: str) -> None:
        """Make the rival of this name."""
        self._rival = RIVALS[name]

    def __call__(
        self, cards: Sequence[Card], pupil: SimulatedPupil, seed: int, plan: Plan
    ) -> Chooser:
        """Return the rival, which does not look into the pupil."""
        return self._rival(cards, seed)


Contestant = Callable[[Sequence[Card], SimulatedPupil, int, Plan], Chooser]
"""Makes a chooser for one course from cards, the pupil, a seed and the plan."""

CONTESTANTS: dict[str, Contestant] = {
    OURS: our_planner,
    **{name: Published(name) for name in RIVALS},
    ORACLE: greedy_oracle,
}
