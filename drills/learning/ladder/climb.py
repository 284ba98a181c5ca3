"""Where on the ladder a pupil stands, and why: from what she brought, played, and was set to."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from functools import reduce

from drills.cards.card import Card
from drills.learning.ladder.rung import Rung, ladder, rung_named
from drills.learning.ladder.trace import Trace
from drills.learning.parameters import USUAL
from drills.learning.prior_knowledge.observations import Decision
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge
from drills.learning.response import Response
from drills.learning.scheduler import Cause, Reached
from drills.text.formatting import RecordedDay
from landmarks.translation import LazyMessage, gettext_noop, lazy

BREAK = timedelta(minutes=USUAL.break_minutes)


class Climber:
    """A pupil on the ladder: stands on the lowest rung that is not climbed."""

    def __init__(
        self,
        brought: PriorKnowledge,
        cards: Collection[Card],
        history: Iterable[Response] = (),
        decisions: Iterable[Decision] = (),
    ) -> None:
        """Start from what is brought and fold earlier answers and decisions, in any order.

        `cards` are all that the ladder may ask, but for contours.
        """
        self.rungs = ladder(brought.first_clef)
        self._brought = brought
        self._traces = {
            rung: Trace(rung, frozenset(filter(rung.has, cards)), brought) for rung in self.rungs
        }
        self.stands = self._lowest()
        self.by: Cause = "beginnings"
        self.why = self._beginning()
        self._latest: datetime | None = None
        happened: list[Response | Decision] = [*history, *decisions]
        for each in sorted(happened, key=lambda each: each.at):
            if isinstance(each, Decision):
                self._decide(each)
            else:
                self.observe(each)

    def observe(self, response: Response) -> Reached | None:
        """Take in an answer; give the rung reached by it, if it is another one."""
        if self._latest is not None and abs(response.at - self._latest) > BREAK:
            self.begin()
        self._latest = response.at
        rung = next((rung for rung in self.rungs if rung.has(response.card)), None)
        if rung is None:
            return None
        self._traces[rung].observe(response.card, response.correct)
        return self._go_to(self._lowest())

    def begin(self) -> None:
        """Begin a session: go back where the last one showed that a rung does not hold."""
        for trace in self._traces.values():
            trace.begin()
        self._go_to(self._lowest())

    def _go_to(self, rung: Rung) -> Reached | None:
        if rung == self.stands:
            return None
        down = self.rungs.index(rung) < self.rungs.index(self.stands)
        before, self.stands, self.by = self.stands, rung, "answers"
        self.why = self._fallen(rung) if down else self._risen(before, rung)
        return Reached(rung.name, before.name, "answers", self.why.english)

    def trace(self, rung: Rung) -> Trace:
        """Return what the answers on a rung tell."""
        return self._traces[rung]

    def climbed(self) -> tuple[Rung, ...]:
        """Return the rungs below the one she stands on."""
        return self.rungs[: self.rungs.index(self.stands)]

    def _decide(self, decision: Decision) -> None:
        try:
            wanted = rung_named(decision.rung, self.rungs)
        except LookupError:
            return
        place = self.rungs.index(wanted)
        for rung in self.rungs[:-1]:
            below = self.rungs.index(rung) < place
            self._traces[rung].set_by_teacher(below)
        self.stands, self.by = wanted, "teacher"
        self.why = lazy(
            "Set by the teacher on {day}: {rung}.",
            day=RecordedDay(decision.at),
            rung=wanted.title,
        )

    def _lowest(self) -> Rung:
        waiting = (rung for rung in self.rungs if not self._traces[rung].climbed)
        return next(waiting, self.rungs[-1])

    def _beginning(self) -> LazyMessage:
        reasons = self._reasons(self.climbed())
        if not reasons:
            return lazy(
                "She begins at the beginning, with {rung}.",
                rung=self.stands.title,
            )
        return lazy(
            "{reasons}: begin with {rung}.", reasons=_listed(reasons), rung=self.stands.title
        )

    def _risen(self, before: Rung, now: Rung) -> LazyMessage:
        right, tried = self._traces[before].recent
        passed = self.rungs[self.rungs.index(before) + 1 : self.rungs.index(now)]
        risen = lazy(
            "{right} of the last {tried} {things} right: {percent} likely to {skill}. Go on with "
            "{rung}.",
            right=right, tried=tried, things=before.things, percent=self._percent(before),
            skill=before.skill, rung=now.title,
        )  # fmt: skip
        if not passed or not (reasons := self._reasons(passed)):
            return risen
        titles = reduce(_followed, (rung.title for rung in passed))
        return lazy(
            "{risen} {reasons}, so {rungs} can be left out.",
            risen=risen, reasons=_listed(reasons), rungs=titles,
        )  # fmt: skip

    def _fallen(self, now: Rung) -> LazyMessage:
        right, tried = self._traces[now].recent
        only = lazy(
            "Only {right} of the last {tried} {things} were right: {percent} likely to {skill}. "
            "Go back to {rung}.",
            right=right, tried=tried, things=now.things, percent=self._percent(now),
            skill=now.skill, rung=now.title,
        )  # fmt: skip
        reasons = self._reasons([now])
        if not reasons:
            return only
        return LazyMessage(
            gettext_noop(
                "{reasons}, it was said, but here {right} of the last {tried} {things} were right: "
                "{percent} likely to {skill}. Go back to {rung}."
            ),
            (("reasons", _listed(reasons)), *only.values),
        )

    def _percent(self, rung: Rung) -> str:
        return f"{100 * min(max(self._traces[rung].skilled, 0.01), 0.99):.0f} %"

    def _reasons(self, rungs: Iterable[Rung]) -> list[str]:
        claims = [claim for rung in rungs for claim in sorted(rung.claimed(self._brought))]
        return list(dict.fromkeys(self._brought.reasons[claim] for claim in claims))


def _listed(reasons: list[str]) -> LazyMessage:
    """Begin a sentence with reasons, one after the other."""
    *first, last = (lazy(reason) for reason in reasons)
    if not first:
        return replace(last, capital=True)
    return lazy("{first} and {last}", capital=True, first=reduce(_followed, first), last=last)


def _followed(first: LazyMessage, following: LazyMessage) -> LazyMessage:
    return lazy("{first}, {following}", first=first, following=following)
