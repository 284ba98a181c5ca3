"""What one more answer on a card is worth: what it teaches and what it tells."""

from __future__ import annotations

from datetime import datetime
from math import log

from drills.card import Card
from drills.model.learner import Learner
from drills.model.memory import COLD_AFTER, DAY

TEACHING_AT_ONCE = 0.7
"""How much an answer right after the last teaches on an unknown card, of a day later's, when rests
cost the pupil as much as they usually do (prior)."""
HONING = 0.3
"""How much an answer a day later hones a known card, of what it teaches on an unknown one
(prior)."""
SURE_ENOUGH = 0.9
"""Probability of being secured from which a warm answer is worth nothing more (prior)."""
MASSED = 60.0
"""Seconds: on a known card answers this close hone nothing yet (prior, no source)."""
TELLING = 0.1
"""What an answer is worth for what it tells of an unsure card, of what it may teach (prior)."""
WARM_TELLS = 0.3
"""How much a warm answer tells of cold reading (prior)."""


def worth(learner: Learner, card: Card, now: datetime) -> float:
    """Give the worth of asking a card now, 0 to about 2.

    An unknown card is taught by nearly every answer, at once all the more for a pupil whom rests
    cost little: what was learnt at once has then been seen to hold. A known one is honed by
    answers that come spaced (the spacing effect: Cepeda et al. 2006, from memory). And an answer
    tells whether the card is secured, most when it is cold. A card that seems secured is worth
    nothing more until it is cold again.
    """
    memory = learner.memory(card)
    lag = memory.lag(now)
    warm = lag is not None and lag < COLD_AFTER
    if warm and memory.last_fluent and learner.p_by_answers(card, now) >= SURE_ENOUGH:
        return 0.0
    unknown, unsecured = learner.gaps(card, now)
    away = spaced(DAY if lag is None else lag)
    at_once: float = TEACHING_AT_ONCE**learner.pupil.forgetting
    teaches = at_once + (1 - at_once) * away
    tells = WARM_TELLS * away if warm else 1.0
    return unknown * teaches + unsecured * (HONING * away + TELLING * tells)


def spaced(lag: float) -> float:
    """Give how much an answer hones `lag` seconds after the last: 0 at once, 1 after a day."""
    return min(1.0, log(1 + lag / MASSED) / log(1 + DAY / MASSED))
