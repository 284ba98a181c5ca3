"""A card's standing with its one sentence for a teacher."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from drills.card import Card, Kind
from drills.model import facts
from drills.model.learner import Learner
from drills.model.memory import DAY, Memory
from drills.response import Standing, State


def explained(learner: Learner, card: Card, now: datetime) -> Standing:
    """Give the standing of a card at `now`; KeyError if the card is not in the set.

    A key card is no note to secure: its standing tells the pupil's key-finding time.
    """
    if card.kind is Kind.KEY:
        seconds = learner.pupil.key_seconds
        why = f"A shown key is found in about {seconds:.1f} s; it is no note to secure."
        return Standing(0.0, seconds, None, State.NEW, why)
    memory = learner.memory(card)
    state = memory.state(now)
    p_secured = learner.p_secured(card, now)
    times = memory.right_times
    median = (times[(len(times) - 1) // 2] + times[len(times) // 2]) / 2 if times else None
    accuracy = memory.right / memory.answers if memory.answers else None
    silent = Standing(p_secured, median, accuracy, state, "")
    why = _sentence(silent, memory, learner.pupil.fluent_seconds, memory.lag(now) or 0.0)
    return replace(silent, why=why)


def _sentence(standing: Standing, memory: Memory, fluent: float, lag: float) -> str:
    state, p_secured, median = standing.state, standing.p_secured, standing.median_seconds
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
            away = round(lag / DAY)
            return f"Was secured, but not played for {away} days: {likely} now ({tally})."
        return f"Was secured, but lately answers were wrong or slow: {likely} now ({tally})."
    if days < facts.SECURED_DAYS.value:
        lacking = "and two fluent days are needed"
    elif p_secured >= facts.INK_FROM.value:
        lacking = "and one more fluent answer is needed"
    else:
        lacking = f"not yet the {_percent(facts.INK_FROM.value)} needed"
    return f"{tally}, {spread}: {likely}, {lacking}."


def _percent(share: float) -> str:
    return f"{100 * min(max(share, 0.01), 0.99):.0f} %"
