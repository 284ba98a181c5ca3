"""`landmark-drills benchmark`: race the planner against published ways of choosing cards."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.user_error import UserError
from drills.commands.output import print_lines
from drills.simulation.benchmark.course import Plan
from drills.simulation.benchmark.race import CHOOSERS, REPORTING_SEEDS, Setting, report
from drills.simulation.pupils import KINDS
from drills.simulation.pupils.pupil import USUAL_DISTRACTION
from landmarks.translation import noted

DESCRIPTION = noted("""\
Simulated pupils of several kinds, from published models of memory and mastery, are taught by this
program's planner, by published ways of choosing cards, and by an oracle that sees their minds.
Prints how many cards each needed until every note was truly secured, and how true the word
secured was. With 200 pupils of each kind it takes hours on one processor.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--pupils", type=int, default=20, help="pupils of each kind")
    parser.add_argument("--first-seed", type=int, default=REPORTING_SEEDS)
    parser.add_argument("--distraction", type=float, default=USUAL_DISTRACTION)
    parser.add_argument("--minutes", type=float, default=Plan().minutes, help="of a session")
    parser.add_argument("--sessions", type=int, default=Plan().sessions, help="at most")
    parser.add_argument("--kinds", nargs="+", choices=list(KINDS), default=list(KINDS))
    parser.add_argument("--choosers", nargs="+", choices=CHOOSERS, default=list(CHOOSERS))
    parser.add_argument("--key-cards", action="store_true", help="give our planner key cards")
    parser.add_argument("--workers", type=int, default=1, help="processes")
    parser.add_argument("--picture", type=Path, help="draw the race into this PNG file")


def run(arguments: argparse.Namespace) -> int:
    """Run a race and print its table."""
    setting = Setting(
        arguments.pupils,
        arguments.first_seed,
        arguments.distraction,
        Plan(arguments.minutes, arguments.sessions),
        arguments.key_cards,
    )
    try:
        table = report(
            arguments.kinds, arguments.choosers, setting, arguments.workers, arguments.picture
        )
    except ImportError as error:
        raise UserError(
            f"{error.name} is not installed; install the project with its test extra, '.[test]'"
        ) from None
    print_lines([table])
    return 0
