"""How likely an answer is, for each way of reading the card.

An answer is a mixture: attentive, or given with the mind elsewhere, or a neighbouring key brushed
by accident; the last two tell nothing of the card.
"""

from __future__ import annotations

from math import log
from typing import NamedTuple

from drills.learning import facts
from drills.learning.model import belief
from drills.learning.model.pupil import Pupil
from drills.learning.model.times import Pace, logistic_density, normal_density

KEYS = 20
"""Keys that a misreading could land on: about three octaves of white keys."""
NEIGHBOURS = 3
"""Keys that touch the right one: white or black beside it, or the next white one; half of them
on either side."""
WORKED_OUT_PACE = log(facts.WORKED_OUT_SECONDS.value)
WRONG_PACE = log(facts.WRONG_SECONDS.value)
WANDER_PACE = log(facts.WANDER_SECONDS.value)


class Seen(NamedTuple):
    """An answer's log time, how much of it the warmth took off, the share of slips that the
    warmth leaves, and the chance of a right answer only from having just been shown it.
    """

    log_time: float
    warm: float
    slips_left: float
    prompted: float

    @property
    def cold_time(self) -> float:
        """The log time that the answer would have taken cold."""
        return self.log_time + self.warm


class Parts(NamedTuple):
    """The parts of an answer's likelihood that tell nothing of the card."""

    wandered: float
    brushed: float
    prompted: float = 0.0
    """The likelihood of a right answer from having just been shown it, on a card not known."""


def right_answer(seen: Seen, pupil: Pupil, pace: Pace) -> tuple[list[float], Parts]:
    """Give the likelihood of a right answer for each level, and its uninformative parts."""
    attention = 1 - pupil.wander - pupil.brush
    quick = attention * _known_density(seen, pupil, pace)
    slow = attention * normal_density(seen.log_time, WORKED_OUT_PACE, facts.WORKED_OUT_SPREAD.value)
    odd = pupil.wander * _elsewhere(seen) * facts.WANDER_RIGHT.value
    prompted, slips = seen.prompted * quick, seen.slips_left * (1 - seen.prompted)
    low = [right * slow + (1 - right) * prompted + odd for right in belief.WORKED_OUT]
    high = [(1 - (1 - right) * slips) * quick + odd for right in belief.KNOWN]
    return low + high, Parts(odd, 0.0, prompted)


def wrong_answer(
    seen: Seen, beside: bool, above: bool, pupil: Pupil, pace: Pace
) -> tuple[list[float], Parts]:
    """Give the likelihood of a wrong answer for each level, and its uninformative parts.

    `beside` tells whether the played key touches the right one, `above` whether it lies above.
    """
    neighbours = facts.NEIGHBOUR_SHARE.value
    where = neighbours / NEIGHBOURS if beside else (1 - neighbours) / (KEYS - NEIGHBOURS)
    pace_density = _known_density(seen, pupil, pace)
    pondered = normal_density(seen.log_time, WRONG_PACE, facts.WRONG_SPREAD.value)
    quick = facts.QUICK_MISREADINGS.value
    when = quick * pace_density + (1 - quick) * pondered
    reading = (1 - pupil.wander - pupil.brush) * where * when * (1 - seen.prompted)
    elsewhere = pupil.wander * _elsewhere(seen) * (1 - facts.WANDER_RIGHT.value) / KEYS
    touched = 2 * pupil.brush_to(above) / NEIGHBOURS * pace_density if beside else 0.0
    odd = elsewhere + touched
    low = [(1 - right) * reading + odd for right in belief.WORKED_OUT]
    reading *= seen.slips_left
    high = [(1 - right) * reading + odd for right in belief.KNOWN]
    return low + high, Parts(elsewhere, touched)


def _known_density(seen: Seen, pupil: Pupil, pace: Pace) -> float:
    scatter: float = (pupil.spread**2 + pace.variance) ** 0.5
    return logistic_density(seen.cold_time, pace.mean, scatter)


def _elsewhere(seen: Seen) -> float:
    return normal_density(seen.log_time, WANDER_PACE, facts.WANDER_SPREAD.value)
