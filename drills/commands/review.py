"""`landmark-drills review`: what the session files say, for the teacher and the parent."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.review import review
from drills.app.user_error import UserError
from drills.commands.options import (
    add_day_option,
    add_studio_option,
    day_of,
    moment_of,
    studio_of,
)
from drills.commands.output import print_lines, write_files
from drills.commands.progress import ProgressBar
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Review one pupil, or the whole studio if none is named. Without a file option the review is
printed; with one, it is written to that file.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("review this pupil (the whole studio)")
    )
    add_studio_option(parser)
    parser.add_argument(
        "--page", type=Path, metavar=_("FILE.html"), help=_("write a page to print")
    )
    parser.add_argument("--csv", type=Path, metavar=_("FILE.csv"), help=_("write a table of notes"))
    parser.add_argument(
        "--json", type=Path, metavar=_("FILE.json"), help=_("write all of it as data")
    )
    parser.add_argument(
        "--sheet",
        type=Path,
        metavar=_("FILE.html"),
        help=_("write the parent's sheet of one pupil"),
    )
    parser.add_argument(
        "--since",
        type=day_of,
        metavar=_("DATE"),
        help=_("when the last lesson was (the last warm-up, or else a week ago)"),
    )
    add_day_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Review, and print or write what is asked for."""
    if arguments.sheet and not arguments.pupil:
        raise UserError(_("a parent's sheet is about one pupil; add --pupil and a nickname"))
    with ProgressBar(_("reviewing")) as progress:
        told = review(
            studio_of(arguments), arguments.pupil, moment_of(arguments), arguments.since, progress
        )
    written = write_files(
        [
            (arguments.page, told.page),
            (arguments.csv, told.csv),
            (arguments.json, told.json),
            (arguments.sheet, told.parents_page),
        ]
    )
    if not written:
        print_lines(told.lines())
    return 0
