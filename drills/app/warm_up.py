"""A warm-up in the lesson: its notes, what came of it, and the home plan that follows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from drills.app.output import writing_into
from drills.app.practice import Practice
from drills.app.practice_context import PracticeContext
from drills.cards.card import Card, cards_of
from drills.learning.planner import Planner
from drills.learning.response import Standing
from drills.learning.warm_up import Outcome, WarmUp, week
from drills.storage.plan import home_plan, write_plan
from drills.storage.studio import Pupil
from landmarks.translation import _


@dataclass(frozen=True)
class WarmUpOffer:
    """What a warm-up can choose from at `now`, an aware datetime."""

    pupil: Pupil
    context: PracticeContext
    planner: Planner
    now: datetime

    @property
    def cards(self) -> tuple[Card, ...]:
        """The stave cards of the landmark set."""
        return cards_of(self.context.landmarks)

    def standing(self, card: Card) -> Standing:
        """Return what is known about a card."""
        return self.planner.standing(card, self.now)

    def chosen(self, asked: tuple[Card, ...]) -> tuple[Practice, WarmUp]:
        """Return the session that asks some of the cards, and its plan of them."""
        warm_up = WarmUp(self.planner, asked, self.now)
        return Practice(self.context, self.context.cards, warm_up), warm_up


@dataclass(frozen=True)
class WeekAfter:
    """The cards that are proposed for the week after a warm-up at `now`."""

    pupil: Pupil
    context: PracticeContext
    now: datetime
    cards: tuple[Card, ...]

    def set_plan(self) -> Path:
        """Make these cards the home plan, and return its file.

        Raises:
            UserError: it cannot be written.
        """
        made = home_plan(self.pupil.nickname, self.now, self.cards, self.context.settings.minutes)
        with writing_into(self.pupil.folder, _("the home plan")):
            return write_plan(made, self.pupil.folder)


def offer_warm_up(pupil: Pupil, context: PracticeContext, seed: int, now: datetime) -> WarmUpOffer:
    """Return what a pupil's warm-up can choose from."""
    planner = context.planner(context.cards, pupil, seed, now)
    return WarmUpOffer(pupil, context, planner, now)


def week_after(offer: WarmUpOffer, outcomes: tuple[Outcome, ...], now: datetime) -> WeekAfter:
    """Return what is proposed for the week, from what came of a warm-up."""
    cards = week(offer.cards, lambda card: offer.planner.standing(card, now), outcomes)
    return WeekAfter(offer.pupil, offer.context, now, tuple(cards))
