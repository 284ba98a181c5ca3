"""A trouble of a pupil, as the review tells it, and the answers it is read from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from drills.cards.card import Card
from drills.review.collect import GivenAnswer
from drills.review.statistics import CONFIDENCE, Estimate, share_of
from drills.text import formatting
from landmarks.translation import _, gettext_noop


class Trouble(StrEnum):
    """What kind of trouble it is."""

    CLEF = gettext_noop("clef confusion")
    DIRECTION = gettext_noop("steps taken the wrong way")
    OCTAVE = gettext_noop("right letter, wrong octave")
    GAP = gettext_noop("forgotten over a gap")
    CARELESS = gettext_noop("fast but careless")
    GUESSED = gettext_noop("often wrong")
    SLOW = gettext_noop("sure but slow")
    NOTE = gettext_noop("stuck on one note")
    QUIET = gettext_noop("little practice")


@dataclass(frozen=True)
class Finding:
    """A trouble, the sentence that shows it, and what to do about it.

    `action` and `reason` are the parts of a sentence; `cards` are the notes it is about, if it is
    about some.
    """

    trouble: Trouble
    evidence: str
    action: str
    reason: str
    cards: tuple[Card, ...] = ()

    @property
    def advice(self) -> str:
        """What to do, with its reason."""
        return _("{action}, because {reason}.").format(action=self.action, reason=self.reason)


@dataclass(frozen=True)
class Reading:
    """One counted answer to a card that asked for a note on the stave."""

    card: Card
    given: GivenAnswer


def split_by_rightness(readings: Sequence[Reading]) -> tuple[list[float], list[float]]:
    """Return the seconds of the right and of the wrong answers."""
    right = [reading.given.seconds for reading in readings if reading.given.right]
    wrong = [reading.given.seconds for reading in readings if not reading.given.right]
    return right, wrong


def accuracy_of(readings: Sequence[Reading], confidence: float = CONFIDENCE) -> Estimate:
    """Return the share of right answers.

    Raises:
        ValueError: there is no answer.
    """
    right = sum(reading.given.right for reading in readings)
    return share_of(right, len(readings), confidence)


def percent(share: Estimate) -> str:
    """Return a share: "85%"."""
    return formatting.percent(share.value)


def capital(text: str) -> str:
    """Begin a sentence."""
    return text[:1].upper() + text[1:]
