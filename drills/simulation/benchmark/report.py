"""The options of a race, and what they print."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from drills.simulation.benchmark.contestants import CONTESTANTS
from drills.simulation.benchmark.course import EQUAL_MINUTES, TO_SECURED
from drills.simulation.benchmark.race import (
    REPORTING_SEEDS,
    Setting,
    contestants_named,
    kinds_without,
    race,
)
from drills.simulation.benchmark.table import write_cards_table, write_minutes_table
from drills.simulation.pupils import KINDS
from drills.simulation.pupils.pupil import USUAL_DISTRACTION

MEASURES = CARDS, MINUTES = "cards", "minutes"
"""Cards until nine in ten are truly secured; what is kept after equal minutes."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the options of a race."""
    parser.add_argument("--pupils", type=int, default=20, help="pupils of each kind")
    parser.add_argument("--first-seed", type=int, default=REPORTING_SEEDS)
    parser.add_argument("--distraction", type=float, default=USUAL_DISTRACTION)
    parser.add_argument("--measures", nargs="+", choices=MEASURES, default=list(MEASURES))
    parser.add_argument("--cards", type=int, default=TO_SECURED.cards, help="a day, till secured")
    parser.add_argument(
        "--minutes", type=float, default=EQUAL_MINUTES.minutes, help="a day, at equal minutes"
    )
    parser.add_argument("--days", type=int, help="of practice, at most")
    parser.add_argument("--kinds", nargs="+", choices=list(KINDS), default=list(KINDS))
    parser.add_argument("--leave-out", nargs="+", choices=list(KINDS), default=[])
    parser.add_argument(
        "--choosers", nargs="+", choices=list(CONTESTANTS), default=list(CONTESTANTS)
    )
    parser.add_argument("--key-cards", action="store_true", help="give our planner key cards")
    parser.add_argument("--workers", type=int, default=1, help="processes")
    parser.add_argument("--picture", type=Path, help="draw the race into this PNG file")


def report(options: argparse.Namespace) -> str:
    """Run the race as the options say; return its tables in Markdown.

    Raises: ImportError if a picture is wanted and matplotlib is missing.
    """
    kept = kinds_without(options.leave_out)
    kinds = [kind for kind in options.kinds if kind in kept]
    setting = Setting(
        options.pupils, options.first_seed, options.distraction, keys=options.key_cards
    )
    contestants = contestants_named(options.choosers)
    tables = []
    if CARDS in options.measures:
        plan = replace(TO_SECURED, cards=options.cards, days=options.days or TO_SECURED.days)
        result = race(kinds, contestants, replace(setting, plan=plan), options.workers)
        tables.append(write_cards_table(result, plan))
        if options.picture:
            from drills.simulation.benchmark.picture import draw  # noqa: PLC0415 (slow, optional)

            draw(result, plan.cap, options.picture)
    if MINUTES in options.measures:
        plan = replace(
            EQUAL_MINUTES, minutes=options.minutes, days=options.days or EQUAL_MINUTES.days
        )
        result = race(kinds, contestants, replace(setting, plan=plan), options.workers)
        tables.append(write_minutes_table(result))
    return "\n\n".join(tables)
