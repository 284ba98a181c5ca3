"""Choose a constant by all kinds of pupil but one, and judge it on that one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from drills.simulation.benchmark.course import Course
from drills.simulation.benchmark.tally import Interval, cards_needed, geometric_mean, ratio


@dataclass(frozen=True)
class LeftOut:
    """What was chosen by the other kinds, and its mean cards on this one over the present value's.

    `best` would have been chosen by this kind alone.
    """

    kind: str
    chosen: str
    against_present: Interval
    best: str


def leave_one_kind_out(
    race: Mapping[str, Mapping[str, Sequence[Course]]], present: str, cap: int
) -> list[LeftOut]:
    """Return a row for each kind of a race between candidates, of which `present` stands today.

    A candidate is chosen for the least geometric mean, over the other kinds, of its mean cards over
    those of the present one; `cap` stands for never. ValueError with fewer than two kinds.
    """
    if len(race) < 2:
        raise ValueError("there must be a kind to choose by beside the one left out")
    needed = {
        kind: {name: cards_needed(courses, cap) for name, courses in by_name.items()}
        for kind, by_name in race.items()
    }
    shares = {
        kind: {name: fmean(cards) / fmean(by_name[present]) for name, cards in by_name.items()}
        for kind, by_name in needed.items()
    }
    rows = []
    for kind, by_name in needed.items():
        others = [shares[other] for other in shares if other != kind]
        chosen = min(by_name, key=lambda name: geometric_mean([other[name] for other in others]))
        against = ratio(by_name[chosen], by_name[present])
        rows.append(LeftOut(kind, chosen, against, min(shares[kind], key=shares[kind].__getitem__)))
    return rows


def write_leave_out_table(rows: Sequence[LeftOut]) -> str:
    """Return the rows as a table in Markdown."""
    head = (
        "| kind left out | chosen by the others | cards over today's value | best on this kind |",
        "| --- | --- | --- | --- |",
    )
    told = (f"| {r.kind} | {r.chosen} | {r.against_present} | {r.best} |" for r in rows)
    return "\n".join([*head, *told])
