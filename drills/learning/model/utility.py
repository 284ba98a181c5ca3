"""What one more answer on a card is worth: what it teaches and what it tells."""

from __future__ import annotations

from datetime import datetime
from math import log

from drills.cards.card import Card
from drills.learning.model.learner import Learner
from drills.learning.model.memory import COLD_AFTER, DAY

TEACHING_AT_ONCE = 0.7
"""How much an answer right after the last teaches on an unknown card, of a day later's, of a pupil
whom rests cost as much, and who repeats as much of what was just shown, as usual (prior)."""
HONING = 0.3
"""How much an answer a day later hones a known card, of what it teaches on an unknown one
(prior)."""
DOUBT = 2
"""Power of the probability that a card is unknown: teaching one that may well be known, and was
only slipped on, is mostly wasted (prior, revised by hand after looking at simulated pupils)."""
MASSED = 60.0
"""Seconds: on a known card answers this close hone nothing yet (prior, no source)."""
TELLING = 0.1
"""What an answer is worth for what it tells of an unsure card, of what it may teach (prior)."""
WARM_TELLS = 0.3
"""How much a warm answer tells of cold reading (prior)."""


def worth(learner: Learner, card: Card, now: datetime) -> float:
    """Give the worth of asking a card now, 0 to about 1.

    An unknown card is taught by nearly every answer, at once all the more for a pupil whom rests
    cost little and who seldom just repeats what was shown: what comes right at once has then been
    learnt, and has been seen to hold. A known one is honed by answers that come spaced (the spacing
    effect: Cepeda et al. 2006, from memory). And an answer tells whether the card is secured, most
    when it is cold. The surer a card is secured, the less of either is left to gain.
    """
    lag = learner.memory(card).lag(now)
    warm = lag is not None and lag < COLD_AFTER
    unknown, unsecured = learner.gaps(card, now)
    away = spaced(DAY if lag is None else lag)
    pupil = learner.pupil
    at_once: float = TEACHING_AT_ONCE ** (pupil.forgetting * pupil.prompting)
    teaches = at_once + (1 - at_once) * away
    tells = WARM_TELLS * away if warm else 1.0
    return unknown**DOUBT * teaches + unsecured * (HONING * away + TELLING * tells)


def spaced(lag: float) -> float:
    """Give how much an answer hones `lag` seconds after the last: 0 at once, 1 after a day."""
    return min(1.0, log(1 + lag / MASSED) / log(1 + DAY / MASSED))
