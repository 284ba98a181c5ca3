"""`landmark-drills benchmark`: race the planner against published ways of choosing cards."""

from __future__ import annotations

import argparse

from drills.commands.refusal import Refusal
from drills.simulation.benchmark.report import add_arguments, report
from landmarks.translation import noted

__all__ = ["DESCRIPTION", "add_arguments", "run"]

DESCRIPTION = noted("""\
Simulated pupils of several kinds, from published models of memory and mastery, are taught by this
program's planner, by published ways of choosing cards, and by a greedy oracle that sees their
minds. Prints how many cards each needed until nine notes in ten were truly secured, what is kept
weeks after equal minutes, and how true the word secured was. With 200 pupils of each kind it takes
hours on one processor.
""")


def run(arguments: argparse.Namespace) -> int:
    """Run a race and print its table."""
    try:
        print(report(arguments))
    except ImportError as error:
        raise Refusal(
            f"{error.name} is not installed; install the project with its test extra, '.[test]'"
        ) from None
    return 0
