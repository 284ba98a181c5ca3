"""The cards of a piece for this week, and the home plan they go into."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime

from drills.cards.card import Card, cards_of
from drills.learning.response import Standing, State
from drills.learning.warm_up import MOST_FOR_THE_WEEK, WEEK_MINUTES, week
from drills.scores.readiness import Cover, PieceNote, Readiness
from drills.storage.plan import HomePlan, home_plan

MOST_FROM_A_PIECE = 6
"""Of the cards of a week: a landmark with its neighbours twice over, and room is left for what
else is in hand (common practice, no source)."""

_BEGUN = {State.FADED: 0, State.PENCIL: 1, State.NEW: 2, None: 2}


def cards_for_the_week(piece: Readiness) -> tuple[Card, ...]:
    """Propose what to practise of a piece.

    What was begun comes before what is new, then what lies one step from a secured note, then what
    is nearest to its landmark, then what comes most often.
    """
    wanted = sorted((note for note in piece.to_learn if note.card is not None), key=_need)
    return tuple(note.card for note in wanted[:MOST_FROM_A_PIECE] if note.card is not None)


def _need(note: PieceNote) -> tuple[int, bool, int, int]:
    return (
        _BEGUN.get(note.state, 2),
        note.cover is not Cover.ONE_STEP,
        abs(note.steps or 0),
        -note.count,
    )


def plan_with_piece(
    pupil: str,
    made: datetime,
    from_piece: Iterable[Card],
    plan: HomePlan | None,
    piece: Readiness,
    standing: Callable[[Card], Standing],
) -> HomePlan:
    """Put a piece's cards first into a plan, and what else was or is to be practised after them."""
    others = plan.asked(piece.landmarks) if plan else week(cards_of(piece.landmarks), standing, ())
    merged: dict[object, Card] = {}
    for card in (*from_piece, *others):
        merged.setdefault(card.place, card)
    cards = list(merged.values())[:MOST_FOR_THE_WEEK]
    return home_plan(pupil, made, cards, plan.minutes if plan else WEEK_MINUTES)
