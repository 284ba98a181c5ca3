"""A trouble of a pupil, as the review tells it, and the answers it is read from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from drills.card import Card
from drills.review.collect import GivenAnswer
from drills.review.statistics import CONFIDENCE, Estimate, share_of


class Trouble(StrEnum):
    """What kind of trouble it is."""

    CLEF = "clef confusion"
    DIRECTION = "steps taken the wrong way"
    OCTAVE = "right letter, wrong octave"
    GAP = "forgotten over a gap"
    CARELESS = "fast but careless"
    GUESSED = "often wrong"
    SLOW = "sure but slow"
    NOTE = "stuck on one note"
    QUIET = "little practice"


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
        return f"{self.action}, because {self.reason}."


@dataclass(frozen=True)
class Reading:
    """One counted answer to a card that asked for a note on the stave."""

    card: Card
    given: GivenAnswer


def parted(readings: Sequence[Reading]) -> tuple[list[float], list[float]]:
    """Give the seconds of the right and of the wrong answers."""
    right = [reading.given.seconds for reading in readings if reading.given.right]
    wrong = [reading.given.seconds for reading in readings if not reading.given.right]
    return right, wrong


def accuracy_of(readings: Sequence[Reading], confidence: float = CONFIDENCE) -> Estimate:
    """Give the share of right answers. ValueError if there is no answer."""
    right = sum(reading.given.right for reading in readings)
    return share_of(right, len(readings), confidence)


def percent(share: Estimate) -> str:
    """Write a share: "85%"."""
    return f"{share.value:.0%}"


def day_of(moment: datetime) -> str:
    """Write a day: "3 March"."""
    return f"{moment.day} {moment:%B}"


def counted(count: int, noun: str) -> str:
    """Write how many there are of something: "1 session", "3 sessions"."""
    return f"{count} {noun}{'s' * (count != 1)}"


def listed(names: Sequence[str]) -> str:
    """Write names one after the other: "treble G, bass F and middle C"."""
    return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)


def capital(text: str) -> str:
    """Begin a sentence."""
    return text[:1].upper() + text[1:]
