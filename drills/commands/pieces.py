"""`landmark-drills pieces`: a shelf of scores, ranked by how ready a pupil is for each."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.piece import report_shelf
from drills.app.practice_context import practice_context
from drills.app.studio_defaults import known_pupil
from drills.commands.options import (
    add_readiness_options,
    moment_of,
    practice_options,
    studio_of,
)
from drills.commands.output import print_lines, write_files
from drills.commands.progress import ProgressBar
from landmarks.score.files import ENDINGS
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Rank the scores in a folder, at any depth, by how ready a pupil is for each: how much of it is
secured or one step from it, what is to be learnt, range, leaps, hand positions, sharps and flats.
Without a pupil the landmarks themselves count as secured. Scores end in {endings}.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.description = _(DESCRIPTION).format(endings=", ".join(ENDINGS))
    parser.add_argument("folder", type=Path, metavar=_("FOLDER"), help=_("the shelf"))
    add_readiness_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Rank the shelf; files that cannot be read are named at its end."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments)) if arguments.pupil else None
    context = practice_context(pupil, practice_options(arguments))
    with ProgressBar(_("reading scores")) as progress:
        told = report_shelf(arguments.folder, pupil, context, moment_of(arguments), progress)
    if not write_files([(arguments.json, told.json), (arguments.page, told.page)]):
        print_lines(told.lines())
    return 0
