"""A card's standing with its one sentence for a teacher."""

from __future__ import annotations

from datetime import datetime
from statistics import median

from drills.cards.card import Card, Kind
from drills.learning.counted_window import supports_ink
from drills.learning.model.learner import Learner
from drills.learning.model.memory import DAY, Memory
from drills.learning.response import Standing, State
from drills.text.formatting import decimal
from landmarks.translation import _, ngettext

ALMOST = 0.99
"""The most that the nearness to ink of a card not in ink can be."""


def explain(learner: Learner, card: Card, now: datetime) -> Standing:
    """Return the standing of a card at `now`; KeyError if the card is not in the set.

    A key card is no note to secure: its standing tells the pupil's key-finding time.
    """
    if card.kind is Kind.KEY:
        seconds = learner.hand.key_seconds
        why = _("A shown key is found in about {seconds} s; it is no note to secure.").format(
            seconds=decimal(seconds)
        )
        return Standing(0.0, seconds, None, State.NEW, why)
    memory, state = learner.memory(card), learner.state(card, now)
    p_secured = learner.p_secured(card, now)
    return Standing(
        p_secured,
        median(memory.right_seconds) if memory.right_seconds else None,
        sum(memory.rights) / len(memory.rights) if memory.rights else None,
        state,
        _sentence(learner, memory, state, p_secured, now),
        _nearness(learner, card, now),
    )


def _nearness(learner: Learner, card: Card, now: datetime) -> float:
    """Return how near a card is to ink: the mean of how far each thing that ink asks for is.

    That is the share of fluent answers that is believed, the right answers that a page counts,
    and the days with a fluent answer.
    """
    memory, numbers = learner.memory(card), learner.parameters
    state = learner.state(card, now)
    if state is State.NEW:
        return 0.0
    if state is State.INK:
        return 1.0
    shares = (
        learner.cold_share(card, now) / numbers.secured_share,
        sum(memory.rights) / (numbers.window - numbers.window_wrong),
        memory.fluent_days / numbers.ink_days,
    )
    return min(ALMOST, sum(min(1.0, share) for share in shares) / len(shares))


def _sentence(
    learner: Learner, memory: Memory, state: State, p_secured: float, now: datetime
) -> str:
    likely = _("{percent} likely to be secured").format(percent=_percent(p_secured))
    if state is State.NEW:
        return _("Not met yet; from the notes met so far {likely}.").format(likely=likely)
    tally = _tally(memory, learner.hand.fluent_seconds)
    if state is State.FADED and memory.inked:
        return ngettext(
            "Was secured, but not played for {count} day: {likely} now ({tally}).",
            "Was secured, but not played for {count} days: {likely} now ({tally}).",
            round((memory.lag(now) or 0.0) / DAY), likely=likely, tally=tally,
        )  # fmt: skip
    if state is State.FADED:
        message = _("Was secured, but lately answers were wrong or slow: {likely} now ({tally}).")
        return message.format(likely=likely, tally=tally)
    tally += ", " + ngettext("fluent on {count} day", "fluent on {count} days", memory.fluent_days)
    if state is State.INK:
        return f"{tally}: {likely}."
    return f"{tally}: {likely}, {_lacking(learner, memory, p_secured)}."


def _lacking(learner: Learner, memory: Memory, p_secured: float) -> str:
    """Say what a note in pencil still needs."""
    numbers = learner.parameters
    if memory.fluent_days < numbers.ink_days:
        return _("and two fluent days are needed")
    supported = supports_ink(memory.rights, numbers)
    if learner.careless or not supported:
        quick = memory.right_seconds and median(memory.right_seconds) <= learner.hand.fluent_seconds
        if quick and (learner.careless or p_secured >= numbers.fade_below):
            return _("quick but careless: nine of ten right are needed")
        return _("and nine of ten right are needed")
    if p_secured >= numbers.ink_from:
        return _("and one more fluent answer is needed")
    return _("not yet the {percent} needed").format(percent=_percent(numbers.ink_from))


def _tally(memory: Memory, fluent: float) -> str:
    answers, right = len(memory.rights), sum(memory.rights)
    if memory.answers > answers:
        told = _("{right} of the last {answers} right").format(right=right, answers=answers)
    else:
        told = _("{right} of {answers} right").format(right=right, answers=answers)
    if not memory.right_seconds:
        return told
    usual = _("usually in {seconds} s where {fluent} s is fluent").format(
        seconds=decimal(median(memory.right_seconds)), fluent=decimal(fluent)
    )
    return f"{told}, {usual}"


def _percent(share: float) -> str:
    return f"{100 * min(max(share, 0.01), 0.99):.0f} %"
