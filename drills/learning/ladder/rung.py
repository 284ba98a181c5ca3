"""The rungs, read from `ladder.toml`, for a pupil whose stave begins with one clef or the other."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import resources

import msgspec

from drills.cards.card import BY_NAME, BY_PLACE, Card, Kind
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge
from landmarks.stave import Clef, other_clef
from landmarks.translation import LazyMessage, _, lazy


class Asks(StrEnum):
    """What a rung asks for."""

    CONTOUR = "contour"
    PLACE = "place"
    NAME = "name"
    LANDMARK = "landmark"
    BESIDE = "beside"
    STEP = "step"
    MIXED = "mixed"

    @property
    def on_stave(self) -> bool:
        """Whether it asks for notes on the stave."""
        return self in (Asks.LANDMARK, Asks.BESIDE, Asks.STEP, Asks.MIXED)


_USUAL = {
    (Kind.KEY, BY_PLACE): Asks.PLACE,
    (Kind.KEY, BY_NAME): Asks.NAME,
    (Kind.LANDMARK, ""): Asks.LANDMARK,
    (Kind.STEP, ""): Asks.STEP,
}


class Odds(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Probabilities of a skill: before any answer, and at which a rung is climbed or lost."""

    brought: float
    unseen: float
    denied: float
    sure: float
    lost: float


@dataclass(frozen=True)
class Rung:
    """One rung: what it asks, what it needs, and how its answers are weighed."""

    name: str
    title: LazyMessage
    skill: LazyMessage
    """What the pupil can do who has climbed it, in words that follow "likely to"."""
    asks: Asks
    things: LazyMessage
    """What its answers are counted in: "moves"."""
    lines: int
    clef: Clef | None
    guess: float
    slip: float
    learn: float
    answers: int
    brought_by: tuple[frozenset[str], ...]

    def has(self, card: Card) -> bool:
        """Return whether an answer to a card tells of this rung."""
        if self.clef not in (None, card.clef) or self.asks is not _asks(card):
            return False
        return card.kind is not Kind.CONTOUR or card.contour.lines == self.lines

    def claimed(self, brought: PriorKnowledge) -> frozenset[str]:
        """Return the claims that stand for this rung's skill; none if it is not brought."""
        met = (claims for claims in self.brought_by if claims <= brought.claims)
        return next(met, frozenset())

    def denied(self, brought: PriorKnowledge) -> bool:
        """Return whether the skill was looked for and not seen."""
        return bool(self.brought_by) and not self.brought_by[0].isdisjoint(brought.denied)


class _Written(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    title: str
    skill: str
    asks: Asks
    things: str
    guess: float
    slip: float
    learn: float
    answers: int
    brought_by: list[list[str]]
    lines: int = 0
    clef: str = ""


class _Ladder(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    odds: Odds
    rungs: dict[str, _Written]


@cache
def odds() -> Odds:
    """Return the probabilities that hold for all rungs."""
    return _written().odds


@cache
def ladder(first_clef: Clef) -> tuple[Rung, ...]:
    """Return the rungs from the lowest up, for a pupil whose stave begins with `first_clef`."""
    clefs = {"first": first_clef, "second": other_clef(first_clef)}
    return tuple(
        _rung(name, written, clefs.get(written.clef)) for name, written in _written().rungs.items()
    )


def rung_named(name: str, rungs: Sequence[Rung]) -> Rung:
    """Return a rung by its name. LookupError, in one sentence, if there is none."""
    found = next((rung for rung in rungs if rung.name == name), None)
    if found is None:
        names = ", ".join(rung.name for rung in rungs)
        raise LookupError(
            _("{name!r} is no rung of the ladder; put one of {names}").format(
                name=name, names=names
            )
        )
    return found


def _asks(card: Card) -> Asks | None:
    if card.kind is Kind.CONTOUR:
        return Asks.CONTOUR
    if card.kind is Kind.STEP and card.form:
        return Asks.BESIDE
    return _USUAL.get((card.kind, card.form))


def _rung(name: str, written: _Written, clef: Clef | None) -> Rung:
    said = "" if clef is None else clef.name
    place = name.partition("-")[2]
    clef_told = lazy(said) if said else ""
    return Rung(
        name=f"{said}-{place}" if said else name,
        title=lazy(written.title, clef=clef_told),
        skill=lazy(written.skill, clef=clef_told),
        asks=written.asks,
        things=lazy(written.things),
        lines=written.lines,
        clef=clef,
        guess=written.guess,
        slip=written.slip,
        learn=written.learn,
        answers=written.answers,
        brought_by=tuple(
            frozenset(claim.format(clef=said) for claim in claims) for claims in written.brought_by
        ),
    )


@cache
def _written() -> _Ladder:
    source = resources.files("drills.learning.ladder").joinpath("ladder.toml").read_text("utf-8")
    return msgspec.convert(tomllib.loads(source), _Ladder)
