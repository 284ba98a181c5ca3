"""`landmark-drills benchmark`: race the planner against published ways of choosing cards."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.user_error import UserError
from drills.commands.output import print_lines
from drills.simulation.benchmark.contestants import CONTESTANTS
from drills.simulation.benchmark.course import EQUAL_MINUTES, TO_SECURED
from drills.simulation.benchmark.race import REPORTING_SEEDS, Setting, kinds_without
from drills.simulation.benchmark.report import MEASURES, RaceOptions, report
from drills.simulation.pupils import KINDS
from drills.simulation.pupils.pupil import USUAL_DISTRACTION
from landmarks.translation import gettext_noop

DESCRIPTION = gettext_noop("""\
Simulated pupils of several kinds, from published models of memory and mastery, are taught by this
program's planner, by published ways of choosing cards, and by a greedy oracle that sees their
minds. Prints how many cards each needed until nine notes in ten were truly secured, what is kept
weeks after equal minutes, and how true the word secured was. With 200 pupils of each kind it takes
hours on one processor.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
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


def run(arguments: argparse.Namespace) -> int:
    """Run a race and print its tables."""
    kept = kinds_without(arguments.leave_out)
    options = RaceOptions(
        Setting(
            arguments.pupils,
            arguments.first_seed,
            arguments.distraction,
            keys=arguments.key_cards,
        ),
        [kind for kind in arguments.kinds if kind in kept],
        arguments.choosers,
        arguments.measures,
        arguments.cards,
        arguments.minutes,
        arguments.days,
        arguments.workers,
        arguments.picture,
    )
    try:
        table = report(options)
    except ImportError as error:
        raise UserError(
            f"{error.name} is not installed; install the project with its test extra, '.[test]'"
        ) from None
    print_lines(table.splitlines())
    return 0
