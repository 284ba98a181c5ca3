"""Where on the ladder a pupil stands, why, and how she came there, with the dates of her moves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from drills.learning.ladder.climb import Climber
from drills.learning.ladder.rung import Rung, ladder, rung_named
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge
from drills.learning.scheduler import Cause
from drills.review.collect import Stood
from drills.review.trouble import capital
from drills.text.formatting import day_of
from landmarks.translation import _

DAYS_TOLD = 5
"""How many of the latest days with a move are told, besides where she began."""

MOVES_TOLD = 3
"""Of more moves of one day, all of them upwards, only the first and the last are told."""


@dataclass(frozen=True)
class Move:
    """The pupil came to stand on a rung: when, by what, and why in one sentence.

    `back` tells that the rung before it was a higher one.
    """

    at: datetime
    rung: str
    title: str
    by: Cause
    why: str
    back: bool


@dataclass(frozen=True)
class LadderReview:
    """The moves that are kept, oldest first and at least one: the latest is where she stands."""

    moves: tuple[Move, ...]

    @property
    def stands(self) -> Move:
        """The move that brought her where she stands."""
        return self.moves[-1]


def ladder_review(
    stood: Sequence[Stood], beginnings: Observations | None, brought: PriorKnowledge
) -> LadderReview | None:
    """Review a pupil's way; None if neither her sessions nor the teacher tell of a ladder.

    `stood` is what her session files say, oldest first, `brought` what her beginnings claim.
    """
    rungs = ladder(brought.first_clef)
    told = [*stood, *_decided(beginnings, rungs)]
    if not told and beginnings is not None and beginnings.observations:
        climber = Climber(brought, ())
        latest = beginnings.observations[-1].at
        told.append(Stood(latest, climber.stands.name, climber.by, str(climber.why)))
    told.sort(key=lambda each: each.at)
    moves: list[Move] = []
    for each in told:
        if not moves or each.rung != moves[-1].rung:
            back = bool(moves) and _place(each.rung, rungs) < _place(moves[-1].rung, rungs)
            moves.append(
                Move(each.at, each.rung, _title(each.rung, rungs), each.by, each.why, back)
            )
    return LadderReview(tuple(moves)) if moves else None


def stands_sentence(review: LadderReview) -> str:
    """Say where she stands, since when and why."""
    stands = review.stands
    told = _("Now practising {title}, since {day}.").format(
        title=stands.title, day=day_of(stands.at)
    )
    return f"{told} {stands.why}"


def way_sentence(review: LadderReview) -> str:
    """Say how she came there; empty if she has not moved."""
    if len(review.moves) == 1:
        return ""
    days = [list(moves) for _day, moves in groupby(review.moves, lambda move: move.at.date())]
    left_out = len(days) > DAYS_TOLD + 1
    told = [_day_told(moves) for moves in (days[0], *days[1:][-DAYS_TOLD:])]
    if left_out:
        told.insert(1, "…")
    return _("The way there: {days}.").format(days="; ".join(told))


def parents_sentence(review: LadderReview) -> str:
    """Say in a parent's words where she stands and how she came there."""
    first, stands = review.moves[0], review.stands
    if len(review.moves) == 1:
        return _("On the way to reading, your child practises {title}.").format(title=stands.title)
    return _(
        "On the way to reading, your child began with {first} on {first_day} and practises {title} "
        "since {day}."
    ).format(
        first=first.title, first_day=day_of(first.at), title=stands.title, day=day_of(stands.at)
    )


def next_on_the_ladder(review: LadderReview) -> str:
    """Say what to do next with a pupil who has met no note yet."""
    return _("Go on with {title}. {why}").format(
        title=review.stands.title, why=capital(review.stands.why)
    )


def _day_told(moves: Sequence[Move]) -> str:
    told = [_move_told(move) for move in moves]
    if len(moves) > MOVES_TOLD and not any(move.back or move.by == "teacher" for move in moves):
        told = [
            _("from {first} over {count} more to {last}").format(
                first=told[0], count=len(moves) - 2, last=told[-1]
            )
        ]
    return f"{day_of(moves[0].at)}: {', '.join(told)}"


def _move_told(move: Move) -> str:
    if move.by == "teacher":
        return _("{title} (set by the teacher)").format(title=move.title)
    return _("back to {title}").format(title=move.title) if move.back else move.title


def _decided(beginnings: Observations | None, rungs: Sequence[Rung]) -> list[Stood]:
    """Return what the teacher decided, said as the session files say it."""
    decisions = beginnings.decisions if beginnings is not None else ()
    known = {rung.name for rung in rungs}
    return [
        Stood(
            decision.at, decision.rung, "teacher",
            str(Climber(PriorKnowledge(), (), (), [decision]).why),
        )
        for decision in decisions
        if decision.rung in known
    ]  # fmt: skip


def _title(name: str, rungs: Sequence[Rung]) -> str:
    """Return a rung's title; a rung of a later version is told by its name."""
    try:
        return str(rung_named(name, rungs).title)
    except LookupError:
        return name


def _place(name: str, rungs: Sequence[Rung]) -> int:
    names = [rung.name for rung in rungs]
    return names.index(name) if name in names else len(names)
