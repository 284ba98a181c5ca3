"""An invented pupil with a planted trouble, whose practice follows an exponential curve.

What is still to be learnt of a card shrinks by a fifth with every answer (the exponential law of
practice, Heathcote, Brown and Mewhort 2000; the fifth and all other numbers are invented), and with
it the time of reading and the share of slips.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from drills.cards.card import Card, Kind
from drills.sessions.view import View
from drills.simulation.pupils.misreadings import Misreading, misread_as
from drills.simulation.pupils.player import Touch
from landmarks.pitch import Pitch

UNLEARNT_AFTER_ANSWER = 0.8
TIME_SPREAD = 0.32
"""Standard deviation of the logarithm of times (Wagenmakers and Brown 2007, from memory)."""
WALKED_OFF, TOO_SOON, BRUSHED = 0.008, 0.012, 0.03
"""Shares of answers, each counted with those before it: given after the pupil walked off, begun
before the card could be seen, and with a neighbouring key brushed."""


@dataclass(frozen=True)
class InventedPupil:
    """How an invented pupil plays; times are medians in seconds, the others probabilities.

    Reading gets quicker with practice from `reading` to `fluent` and slips rarer from `slips` to
    `slips_left`; `habit` is the trouble's own slip, which comes with `habit_slips` and stays.
    """

    nickname: str
    trouble: str
    days: tuple[int, ...]
    """The weekdays of practice, 0 is Monday."""
    key: float
    reading: float
    fluent: float
    slips: float = 0.12
    slips_left: float = 0.02
    habit: Misreading = Misreading.STEP
    habit_slips: float = 0.0
    habit_notes: tuple[str, ...] = ()
    """Where the habit shows; everywhere if empty."""
    haste: float = 1.0
    """How long a slip takes, as a share of a right answer's time."""
    counted_step: float = 0.0
    """Seconds for each line and space that is counted up from the bottom line."""
    away: tuple[int, int] = (0, 0)
    """From which day to which there is no practice, counted back from the last day."""
    forgotten: float = 0.0
    """The share of practice that is lost while away."""


class InventedPlayer:
    """Plays one session as an invented pupil, with what practice before it has left."""

    def __init__(
        self,
        pupil: InventedPupil,
        practised: dict[Card, float],
        slowed: Mapping[Pitch, float],
        generator: Random,
    ) -> None:
        """Sit down with what was practised before, in answers a card, which this session adds to.

        Reading the notes in `slowed` takes so many times as long.
        """
        self._pupil = pupil
        self._practised = practised
        self._slowed = slowed
        self._random = generator

    def touch(self, view: View, attempt: int) -> Touch:
        """Return the answer to what is shown: the first, or one after so many slips."""
        card = view.card
        assert card is not None
        if attempt > 1:
            return Touch(1.2 + self._seconds(card), (card.key,))
        seconds = self._seconds(card)
        self._practised[card] = self._practised.get(card, 0.0) + 1
        chance = self._random.random()
        if chance < WALKED_OFF:
            return Touch(seconds + 45, (card.key,))
        if chance < TOO_SOON:
            return Touch(0.11, (card.key,))
        if chance < BRUSHED:
            return Touch(seconds, (card.target.stepped(1).midi, card.key))
        wrong = None if card.kind is Kind.KEY else self._slip(card)
        if wrong is None or wrong == card.key:
            return Touch(seconds, (card.key,))
        return Touch(max(0.3, seconds * self._pupil.haste), (wrong,))

    def _slip(self, card: Card) -> int | None:
        pupil = self._pupil
        here = not pupil.habit_notes or str(card.target) in pupil.habit_notes
        if here and self._random.random() < pupil.habit_slips:
            return self._misread(card, pupil.habit)
        slips = pupil.slips_left + (pupil.slips - pupil.slips_left) * self._unpractised(card)
        return self._misread(card, Misreading.STEP) if self._random.random() < slips else None

    def _misread(self, card: Card, kind: Misreading) -> int:
        keys = misread_as(card, kind)
        return keys[0] if len(keys) == 1 else self._random.choice(keys)

    def _seconds(self, card: Card) -> float:
        pupil = self._pupil
        reading = 0.0
        if card.kind is not Kind.KEY:
            reading = pupil.fluent + (pupil.reading - pupil.fluent) * self._unpractised(card)
            reading += pupil.counted_step * max(0, card.clef.position(card.target))
            reading *= self._slowed.get(card.target, 1.0)
        return 0.3 + (pupil.key + reading - 0.3) * self._random.lognormvariate(0, TIME_SPREAD)

    def _unpractised(self, card: Card) -> float:
        """Return what is still to be learnt of a card, from 1 down to 0."""
        return float(UNLEARNT_AFTER_ANSWER ** self._practised.get(card, 0.0))
