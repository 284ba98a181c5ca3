"""What one more answer on a card is worth: what it teaches and what it tells."""

from __future__ import annotations

from datetime import datetime
from math import log

from drills.card import Card
from drills.model.learner import Learner
from drills.model.memory import COLD_AFTER, DAY

TELLING = 0.1
AT_ONCE = 0.1
MASSED = 30.0
"""Seconds: answers this close teach half as much as a little later (prior, no source)."""
WARM_TELLS = 0.3
"""How much an answer tells of cold reading when the card was seen a moment ago (prior)."""


def worth(learner: Learner, card: Card, now: datetime) -> float:
    """Give the worth of asking a card now, 0 to about 2.

    An answer teaches what is missing, the more the longer the card was away (the spacing effect:
    Cepeda et al. 2006), and it tells whether the card is secured, most when cold.
    """
    lag = learner.memory(card).lag(now)
    away = spaced(DAY if lag is None else lag)
    missing = learner.missing(card, now)
    tells = 1.0 if lag is None or lag >= COLD_AFTER else WARM_TELLS * away
    unsure = (1 - learner.p_secured(card, now)) * tells
    return missing * away + TELLING * unsure


def spaced(lag: float) -> float:
    """Give how much an answer teaches `lag` seconds after the last, 1 after a day."""
    return AT_ONCE + (1 - AT_ONCE) * min(1.0, log(1 + lag / MASSED) / log(1 + DAY / MASSED))
