"""A card's standing with its one sentence for a teacher."""

from __future__ import annotations

from datetime import datetime

from drills.card import Card
from drills.model import facts
from drills.model.learner import Learner
from drills.model.memory import DAY, Memory
from drills.response import Standing, State


def explained(learner: Learner, card: Card, now: datetime) -> Standing:
    """Give the standing of a card at `now`; KeyError if the card is not in the set."""
    memory = learner.memory(card)
    state = memory.state(now)
    p_secured = learner.p_secured(card, now)
    median = memory.right_times[len(memory.right_times) // 2] if memory.right_times else None
    accuracy = memory.right / memory.answers if memory.answers else None
    why = _sentence(memory, state, p_secured, median, learner.pupil.fluent_seconds, now)
    return Standing(p_secured, median, accuracy, state, why)


def _sentence(
    memory: Memory,
    state: State,
    p_secured: float,
    median: float | None,
    fluent: float,
    now: datetime,
) -> str:
    if state is State.NEW:
        return f"Not met yet; from the notes met so far {_percent(p_secured)} likely to be secured."
    tally = f"{memory.right} of {memory.answers} right"
    if median is not None:
        tally += f", usually in {median:.1f} s where {fluent:.1f} s is fluent"
    days = len(memory.fluent_days)
    spread = f"fluent on {days} day{'s' * (days != 1)}"
    likely = f"{_percent(p_secured)} likely to be secured"
    if state is State.INK:
        return f"{tally}, {spread}: {likely}."
    if state is State.FADED:
        if memory.inked:
            away = round((memory.lag(now) or 0.0) / DAY)
            return f"Was secured, but not played for {away} days: {likely} now ({tally})."
        missed = list(memory.recent).count(False)
        return (
            f"Was secured, but {missed} of the last {len(memory.recent)} answers were wrong or "
            f"slow: {likely} now."
        )
    if days < facts.SECURED_DAYS.value:
        return f"{tally}, {spread}: {likely}, and two fluent days are needed."
    return f"{tally}, {spread}: {likely}, not yet the {_percent(facts.INK_FROM.value)} needed."


def _percent(share: float) -> str:
    return f"{100 * min(max(share, 0.01), 0.99):.0f} %"
