"""A card's standing with its one sentence for a teacher."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from drills.cards.card import Card, Kind
from drills.learning import facts
from drills.learning.model.learner import Learner
from drills.learning.model.memory import DAY, Memory
from drills.learning.response import Standing, State
from drills.text.formatting import decimal
from landmarks.translation import _, ngettext


def explained(learner: Learner, card: Card, now: datetime) -> Standing:
    """Give the standing of a card at `now`; KeyError if the card is not in the set.

    A key card is no note to secure: its standing tells the pupil's key-finding time.
    """
    if card.kind is Kind.KEY:
        seconds = learner.pupil.key_seconds
        why = _("A shown key is found in about {seconds} s; it is no note to secure.").format(
            seconds=decimal(seconds)
        )
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
        return _("Not met yet; from the notes met so far {likely}.").format(
            likely=_likely(p_secured)
        )
    tally = _tally(memory, median, fluent)
    likely = _likely(p_secured)
    if state is State.FADED:
        if memory.inked:
            return ngettext(
                "Was secured, but not played for {count} day: {likely} now ({tally}).",
                "Was secured, but not played for {count} days: {likely} now ({tally}).",
                round(lag / DAY), likely=likely, tally=tally,
            )  # fmt: skip
        message = _("Was secured, but lately answers were wrong or slow: {likely} now ({tally}).")
        return message.format(likely=likely, tally=tally)
    days = len(memory.fluent_days)
    tally += ", " + ngettext("fluent on {count} day", "fluent on {count} days", days)
    if state is State.INK:
        return f"{tally}: {likely}."
    if days < facts.SECURED_DAYS.value:
        lacking = _("and two fluent days are needed")
    elif p_secured >= facts.INK_FROM.value:
        lacking = _("and one more fluent answer is needed")
    else:
        lacking = _("not yet the {percent} needed").format(percent=_percent(facts.INK_FROM.value))
    return f"{tally}: {likely}, {lacking}."


def _tally(memory: Memory, median: float | None, fluent: float) -> str:
    right = _("{right} of {answers} right").format(right=memory.right, answers=memory.answers)
    if median is None:
        return right
    usual = _("usually in {seconds} s where {fluent} s is fluent")
    return f"{right}, {usual.format(seconds=decimal(median), fluent=decimal(fluent))}"


def _likely(p_secured: float) -> str:
    return _("{percent} likely to be secured").format(percent=_percent(p_secured))


def _percent(share: float) -> str:
    return f"{100 * min(max(share, 0.01), 0.99):.0f} %"
