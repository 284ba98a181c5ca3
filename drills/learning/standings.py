"""How every card stands at a moment, for whoever plans nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from drills.cards.card import Card
from drills.learning.fluency import USUAL as USUAL_FLUENCY
from drills.learning.fluency import Fluency
from drills.learning.model import Learner
from drills.learning.model.explain import explain
from drills.learning.parameters import USUAL, Parameters
from drills.learning.response import Response, Standing


def standings(
    cards: Sequence[Card],
    history: Iterable[Response],
    now: datetime,
    *,
    fluency: Fluency = USUAL_FLUENCY,
    prior_knowledge: Mapping[Card, float] | None = None,
    parameters: Parameters = USUAL,
) -> dict[Card, Standing]:
    """Return the standing of every card at `now`, from answers in any order.

    Answers dated later than `now` are left out. `prior_knowledge` multiplies the odds that a card
    is known before it is met.
    """
    (found,) = standings_over(
        cards, history, (now,), fluency=fluency, prior_knowledge=prior_knowledge,
        parameters=parameters,
    )  # fmt: skip
    return found


def standings_over(
    cards: Sequence[Card],
    history: Iterable[Response],
    moments: Sequence[datetime],
    *,
    fluency: Fluency = USUAL_FLUENCY,
    prior_knowledge: Mapping[Card, float] | None = None,
    parameters: Parameters = USUAL,
) -> list[dict[Card, Standing]]:
    """Return the standings at each of several moments, the earliest first, as `standings` does."""
    learner = Learner(cards, fluency, prior_knowledge, parameters)
    waiting = sorted(history, key=lambda response: response.at, reverse=True)
    found = []
    for moment in moments:
        while waiting and waiting[-1].at <= moment:
            learner.observe(waiting.pop())
        found.append({card: explain(learner, card, moment) for card in cards})
    return found
