"""The notes a pupil works on this week: those of the home plan, or those not yet secured."""

from __future__ import annotations

from datetime import datetime

from drills.cards.card import Card, Kind, cards_of
from drills.learning.fluency import USUAL, Fluency
from drills.learning.prior_knowledge.prior_knowledge import NOTHING, PriorKnowledge
from drills.learning.response import State
from drills.learning.standings import standings
from drills.storage.plan import HomePlan
from drills.storage.studio import Pupil
from landmarks.sets import LandmarkSet

MOST_NOTES = 6
"""As many as a child keeps in mind over a week. Common practice, no source."""


def notes_of_week(
    plan: HomePlan | None,
    pupil: Pupil,
    landmarks: LandmarkSet,
    now: datetime,
    fluency: Fluency = USUAL,
    brought: PriorKnowledge = NOTHING,
) -> tuple[Card, ...]:
    """Return the stave cards of the week, each key once, landmarks before the steps around them.

    Without a plan, or with one that asks nothing on a stave, they are the landmarks of the set that
    are not in ink; if all are, the steps that are not, or else all landmarks. `brought` counts as
    it does in practice.
    """
    planned = () if plan is None else plan.asked(landmarks)
    on_stave = [card for card in planned if card.kind in (Kind.LANDMARK, Kind.STEP)]
    asked = on_stave or _open_cards(pupil, landmarks, now, fluency, brought)
    first = {card.target: card for card in reversed(asked)}
    kept = [card for card in asked if first[card.target] is card]
    return tuple(sorted(kept[:MOST_NOTES], key=lambda card: card.kind is not Kind.LANDMARK))


def _open_cards(
    pupil: Pupil, landmarks: LandmarkSet, now: datetime, fluency: Fluency, brought: PriorKnowledge
) -> list[Card]:
    cards = cards_of(landmarks)
    known = standings(
        cards, pupil.responses(), now, fluency=fluency, prior_knowledge=brought.odds(cards)
    )
    not_inked = [card for card in cards if known[card].state is not State.INK]
    anchors = [card for card in not_inked if card.kind is Kind.LANDMARK]
    return anchors or not_inked or [card for card in cards if card.kind is Kind.LANDMARK]
