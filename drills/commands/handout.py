"""`landmark-drills handout`: a practice sheet to print."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path

from drills.app.practice_context import practice_context
from drills.app.practice_sheet import practice_sheet
from drills.app.studio_defaults import known_pupil
from drills.commands.find_options import add_find_options, spotting_options
from drills.commands.options import (
    add_music_options,
    add_studio_option,
    practice_options,
    seed_of,
    studio_of,
)
from drills.commands.output import write_files
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Write a practice sheet, A4 or Letter, to print in black and white: the notes of the week on the
grand stave, contours to follow with a finger, and a line of music to look for notes in. The answers
stand on a page of their own. The notes are those of the home plan, or, without one, those not yet
secured; what the review names as trouble comes first.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("file", type=Path, metavar=_("FILE.html"), help=_("where to write it"))
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("who it is for (the only pupil there is)")
    )
    add_studio_option(parser)
    add_find_options(parser)
    add_music_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments))
    context = practice_context(pupil, practice_options(arguments))
    now, seed = datetime.now().astimezone(), seed_of(arguments)
    sheet = practice_sheet(pupil, context, now, seed, spotting_options(arguments))
    write_files([(arguments.file, lambda: sheet)])
    return 0
