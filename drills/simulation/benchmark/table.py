"""The race as one table in Markdown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from statistics import fmean, median

from drills.simulation.benchmark.course import ORACLE, OURS, Course
from drills.simulation.benchmark.tally import (
    cards_needed,
    estimated,
    false_share,
    missed_share,
    ratio,
)

HEAD = (
    "pupil",
    "chooser",
    "cards, median",
    "cards, mean",
    "never",
    "cards to secure one card, median",
    "minutes, median",
    "sessions, median",
    "right",
    "fluent a week later",
    "called secured but not",
    "secured but not called so",
)


def written(race: Mapping[str, Mapping[str, Sequence[Course]]], sessions: int) -> str:
    """Write a row for each kind of pupil and chooser, and the ratios to the best rival and the
    oracle; `sessions` is the most that a course had.
    """
    rows = [HEAD, tuple("---" for _ in HEAD)]
    rows += [
        _row(kind, name, courses, sessions)
        for kind, by_name in race.items()
        for name, courses in by_name.items()
    ]
    lines = ["| " + " | ".join(row) + " |" for row in rows]
    return "\n".join([*lines, "", *_ratios(race)])


def _row(kind: str, name: str, courses: Sequence[Course], sessions: int) -> tuple[str, ...]:
    cards = cards_needed(courses)
    never = sum(course.cards is None for course in courses)
    minutes = [float("inf") if course.minutes is None else course.minutes for course in courses]
    ended = [sessions + 1 if course.session is None else course.session for course in courses]
    one = [CAPPED if first is None else first for course in courses for first in course.first]
    return (
        kind,
        name,
        str(estimated(cards)),
        str(estimated(cards, fmean)),
        f"{never} of {len(courses)}",
        f"{median(one):.0f}",
        f"{median(minutes):.0f}",
        f"{median(ended):.0f}",
        f"{fmean(course.success for course in courses):.2f}",
        f"{fmean(course.retained for course in courses):.2f}",
        _share(false_share(courses)),
        _share(missed_share(courses)),
    )


CAPPED = float("inf")


def _share(share: float | None) -> str:
    return "no claims" if share is None else f"{100 * share:.1f} %"


def _ratios(race: Mapping[str, Mapping[str, Sequence[Course]]]) -> list[str]:
    lines = []
    for kind, by_name in race.items():
        if OURS not in by_name:
            continue
        needed = {name: cards_needed(courses) for name, courses in by_name.items()}
        rivals = [name for name in needed if name not in (OURS, ORACLE)]
        if rivals:
            best = min(rivals, key=lambda name: fmean(needed[name]))
            against = ratio(needed[OURS], needed[best])
            lines.append(f"- {kind}: mean cards over the best rival's ({best}): {against}")
        if ORACLE in needed:
            against = ratio(needed[OURS], needed[ORACLE])
            lines.append(f"- {kind}: mean cards over the oracle's: {against}")
    return lines
