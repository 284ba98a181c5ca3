"""Where on the ladder a pupil stands, and why: from what she brought, played, and was set to."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime

from drills.beginnings.brought import Brought
from drills.beginnings.record import Decision
from drills.card import Card
from drills.chooser import Cause, Reached
from drills.ladder.rung import Rung, ladder, rung_named
from drills.ladder.trace import Trace
from drills.planner import BREAK
from drills.response import Response


class Climber:
    """A pupil on the ladder: stands on the lowest rung that is not climbed."""

    def __init__(
        self,
        brought: Brought,
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
        if self._latest is not None and response.at - self._latest > BREAK:
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
        return Reached(rung.name, before.name, "answers", self.why)

    def trace(self, rung: Rung) -> Trace:
        """Give what the answers on a rung tell."""
        return self._traces[rung]

    def climbed(self) -> tuple[Rung, ...]:
        """Give the rungs below the one she stands on."""
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
        self.why = f"The teacher set this rung on {decision.at:%d %B %Y}: {wanted.title}."

    def _lowest(self) -> Rung:
        waiting = (rung for rung in self.rungs if not self._traces[rung].climbed)
        return next(waiting, self.rungs[-1])

    def _beginning(self) -> str:
        reasons = self._reasons(self.climbed())
        if not reasons:
            return f"Nothing is brought that passes over a rung: begin with {self.stands.title}."
        return f"{_listed(reasons)}: begin with {self.stands.title}."

    def _risen(self, before: Rung, now: Rung) -> str:
        right, tried = self._traces[before].recent
        passed = self.rungs[self.rungs.index(before) + 1 : self.rungs.index(now)]
        also = ""
        if passed and (reasons := self._reasons(passed)):
            titles = ", ".join(rung.title for rung in passed)
            also = f" {_listed(reasons)}: no need of {titles}."
        return (
            f"{right} of the last {tried} {before.things} right: {self._likely(before)} "
            f"to {before.skill}. Go on with {now.title}.{also}"
        )

    def _fallen(self, now: Rung) -> str:
        right, tried = self._traces[now].recent
        reasons = self._reasons([now])
        though = f"{_listed(reasons)}, it was said, but here " if reasons else "Only "
        return (
            f"{though}{right} of the last {tried} {now.things} were right: {self._likely(now)} "
            f"to {now.skill}. Go back to {now.title}."
        )

    def _likely(self, rung: Rung) -> str:
        return f"{100 * min(max(self._traces[rung].skilled, 0.01), 0.99):.0f} % likely"

    def _reasons(self, rungs: Iterable[Rung]) -> list[str]:
        claims = [claim for rung in rungs for claim in sorted(rung.claimed(self._brought))]
        return list(dict.fromkeys(self._brought.reasons[claim] for claim in claims))


def _listed(reasons: list[str]) -> str:
    words = " and ".join(filter(None, [", ".join(reasons[:-1]), reasons[-1]]))
    return words[0].upper() + words[1:]
