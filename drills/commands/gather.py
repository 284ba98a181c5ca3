"""`landmark-drills gather`: take in files of the studio from another machine."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.file_import import take_in
from drills.commands.options import add_studio_option, studio_of
from drills.commands.output import print_lines
from drills.commands.progress import ProgressBar
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Take session files, home plans and what pupils bring into the studio, from folders (at any depth),
from ZIP files or one by one.
The same file may come twice, renamed or cut short: every whole line is kept, and none twice.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "places",
        nargs="+",
        type=Path,
        metavar=_("FOLDER"),
        help=_("folder or file, packed as ZIP or not"),
    )
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Take files in and say what came of them; 2 if one could not be used, 1 if there was none."""
    with ProgressBar(_("gathering")) as progress:
        summary = take_in(arguments.places, studio_of(arguments), progress)
    print_lines(summary.sentences())
    if summary.is_empty:
        return 1
    return 2 if summary.refused else 0
