"""`landmark-drills handout`: a practice sheet to print."""

from __future__ import annotations

import argparse
import random
from datetime import datetime
from pathlib import Path

from drills.commands.music import music_of
from drills.commands.options import (
    add_music_options,
    add_studio_option,
    pupil_of,
    seed_of,
    studio_of,
)
from drills.commands.output import write_file
from drills.commands.sitting import only_pupil
from drills.commands.what_to_find import add_find_options, pages_of, questions_of, week_of
from drills.reports.practice_sheet import Handout, handout_page
from drills.reports.sheet_contours import invented_contours
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Write a practice sheet of one page, A4 or Letter, to print in black and white: the notes of the
week on the grand stave, contours to follow with a finger, and a line of music to look for notes
in, with the answers small at the foot. The notes are those of the home plan, or, without one,
those not yet secured.
""")
CONTOURS = 4


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
    studio = studio_of(arguments)
    pupil = pupil_of(arguments.pupil or only_pupil(studio), studio)
    music, seed = music_of(arguments, pupil), seed_of(arguments)
    questions = questions_of(arguments, pupil, music)
    handout = Handout(
        pupil.nickname,
        datetime.now().astimezone(),
        week_of(pupil, music),
        invented_contours(CONTOURS, music.brought, random.Random(seed)),
        next(pages_of(arguments, questions, music, seed)),
        music.naming,
    )
    write_file(arguments.file, handout_page(handout))
    return 0
