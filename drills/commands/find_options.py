"""Options that say what is looked for in a line of music, and where the line comes from."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.spotting_options import SpottingOptions
from landmarks.translation import _
from landmarks.values import VALUE_NAMINGS


def add_find_options(parser: argparse.ArgumentParser) -> None:
    """Add what to find in a line of music, and where the line comes from."""
    parser.add_argument(
        "--score", type=Path, metavar=_("FILE"), help=_("take the lines from this score")
    )
    parser.add_argument(
        "--bar", type=int, default=1, help=_("the bar of the score to begin at (1)")
    )
    parser.add_argument(
        "--find", action="append", metavar=_("WHAT"),
        help=_('what to find: "treble G", "bass C", "F#4", "crotchet", "quarter note", '
'"ta"; may be given again (the notes of the week)'),
    )  # fmt: skip
    parser.add_argument(
        "--values", choices=sorted(VALUE_NAMINGS),
        help=_("ask for note values as well, by these names"),
    )  # fmt: skip


def spotting_options(arguments: argparse.Namespace) -> SpottingOptions:
    """Return what the options say of what is to be found."""
    return SpottingOptions(
        arguments.score, arguments.bar, tuple(arguments.find or ()), arguments.values
    )
