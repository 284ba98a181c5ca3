"""A whole race: by which measures, and what is printed of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from drills.simulation.benchmark.course import EQUAL_MINUTES, TO_SECURED
from drills.simulation.benchmark.race import Setting, contestants_named, race
from drills.simulation.benchmark.table import write_cards_table, write_minutes_table

MEASURES = CARDS, MINUTES = "cards", "minutes"
"""Cards until nine in ten are truly secured; what is kept after equal minutes."""


@dataclass(frozen=True)
class RaceOptions:
    """Who races by what measure: `cards` and `minutes` a day, `days` at most (None as usual)."""

    setting: Setting
    kinds: Sequence[str]
    choosers: Sequence[str]
    measures: Sequence[str]
    cards: int
    minutes: float
    days: int | None
    workers: int
    picture: Path | None


def report(options: RaceOptions) -> str:
    """Run the race; return its tables in Markdown.

    Raises: ImportError if a picture is wanted and matplotlib is missing.
    """
    setting = options.setting
    contestants = contestants_named(options.choosers)
    tables = []
    if CARDS in options.measures:
        plan = replace(TO_SECURED, cards=options.cards, days=options.days or TO_SECURED.days)
        result = race(options.kinds, contestants, replace(setting, plan=plan), options.workers)
        tables.append(write_cards_table(result, plan))
        if options.picture:
            from drills.simulation.benchmark.picture import draw

            draw(result, plan.cap, options.picture)
    if MINUTES in options.measures:
        plan = replace(
            EQUAL_MINUTES, minutes=options.minutes, days=options.days or EQUAL_MINUTES.days
        )
        result = race(options.kinds, contestants, replace(setting, plan=plan), options.workers)
        tables.append(write_minutes_table(result))
    return "\n\n".join(tables)
