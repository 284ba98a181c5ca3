"""The race as two tables in Markdown: cards until secured, and what equal minutes leave."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from statistics import fmean

from drills.simulation.benchmark.contestants import ORACLE, OURS
from drills.simulation.benchmark.course import Course, Plan
from drills.simulation.benchmark.tally import (
    cards_needed,
    difference,
    estimated,
    false_share,
    geometric_mean,
    ratio,
    unnamed_share,
)

Race = Mapping[str, Mapping[str, Sequence[Course]]]
"""Courses by kind of pupil and chooser, in the order of the seeds: they pair up."""

CARDS_HEAD = (
    "pupil", "chooser", "cards, median", "cards, mean", "never", "right", "in runs of three wrong",
    "called secured but not",
)  # fmt: skip
MINUTES_HEAD = (
    "pupil", "chooser", "minutes used", "cards", "fluent after 1 week", "4 weeks", "8 weeks",
    "in runs of three wrong", "called secured but not", "secured but not called so at the end",
    "ink not true after 4 weeks away", "after 8 weeks away",
)  # fmt: skip


def write_cards_table(race: Race, plan: Plan) -> str:
    """Return a row for each kind of pupil and chooser, then the ratios of mean cards."""

    def row(courses: Sequence[Course]) -> tuple[str, ...]:
        cards = cards_needed(courses, plan.cap)
        never = sum(course.cards is None for course in courses)
        return (
            str(estimated(cards)),
            str(estimated(cards, fmean)),
            f"{never} of {len(courses)}",
            f"{fmean(course.right for course in courses):.2f}",
            _share(fmean(course.in_runs for course in courses)),
            _share(false_share(claim for course in courses for claim in course.claims)),
        )

    return "\n".join([_written(race, CARDS_HEAD, row), "", *_ratios(race, plan)])


def write_minutes_table(race: Race) -> str:
    """Return a row for each kind of pupil and chooser, then the differences in retention."""

    def row(courses: Sequence[Course]) -> tuple[str, ...]:
        kept = map(fmean, zip(*(course.retained for course in courses), strict=True))
        away = zip(*(course.claims_away for course in courses), strict=True)
        return (
            f"{fmean(course.spent for course in courses):.0f}",
            f"{fmean(course.asked for course in courses):.0f}",
            *(f"{share:.2f}" for share in kept),
            _share(fmean(course.in_runs for course in courses)),
            _share(false_share(claim for course in courses for claim in course.claims)),
            _share(unnamed_share(claim for course in courses for claim in course.claims[-1:])),
            *([_share(false_share(claims)) for claims in away] or [_share(None)] * 2),
        )

    return "\n".join([_written(race, MINUTES_HEAD, row), "", *_differences(race)])


def _written(
    race: Race, head: tuple[str, ...], row: Callable[[Sequence[Course]], tuple[str, ...]]
) -> str:
    rows = [head, tuple("---" for _ in head)]
    rows += [
        (kind, name, *row(courses))
        for kind, by_name in race.items()
        for name, courses in by_name.items()
    ]
    return "\n".join("| " + " | ".join(cells) + " |" for cells in rows)


def _share(share: float | None) -> str:
    return "no claims" if share is None else f"{100 * share:.1f} %"


def _rivals(by_name: Mapping[str, Sequence[Course]]) -> list[str]:
    return [name for name in by_name if name not in (OURS, ORACLE)]


def _ratios(race: Race, plan: Plan) -> list[str]:
    lines, ratios = [], []
    for kind, by_name in race.items():
        if OURS not in by_name:
            continue
        needed = {name: cards_needed(courses, plan.cap) for name, courses in by_name.items()}
        rivals = _rivals(by_name)
        if rivals:
            best = min(rivals, key=lambda name: fmean(needed[name]))
            against = ratio(needed[OURS], needed[best])
            ratios.append(against.value)
            lines.append(f"- {kind}: mean cards over the best rival's ({best}): {against}")
        if ORACLE in needed:
            against = ratio(needed[OURS], needed[ORACLE])
            lines.append(f"- {kind}: mean cards over the greedy oracle's: {against}")
    if ratios:
        lines.append(
            f"- over all {len(ratios)} kinds: {geometric_mean(ratios):.2f} (geometric mean),"
            f" at most {max(ratios):.2f}"
        )
    return lines


def _differences(race: Race) -> list[str]:
    lines = []
    for kind, by_name in race.items():
        rivals = _rivals(by_name)
        if OURS not in by_name or not rivals:
            continue
        for place, weeks in enumerate((1, 4, 8)):
            kept = {name: [c.retained[place] for c in courses] for name, courses in by_name.items()}
            best = max(rivals, key=lambda name: fmean(kept[name]))
            against = difference(kept[OURS], kept[best])
            lines.append(
                f"- {kind}: fluent after {weeks} weeks, less the best rival's ({best}): {against}"
            )
    return lines
