"""`landmark-drills piece`: what a pupil must read in a piece, and what to practise for it."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path

from drills.app.piece import plan_sentence, put_into_plan, read_piece, report_piece
from drills.app.practice_context import practice_context
from drills.app.studio_defaults import known_pupil
from drills.app.user_error import UserError
from drills.commands.options import (
    add_readiness_options,
    moment_of,
    practice_options,
    studio_of,
)
from drills.commands.output import print_lines, write_files
from drills.reports.terminal import prose
from landmarks.score.files import READABLE
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Tell what must be read in a piece: every note by hand and clef, its nearest landmark and distance,
how much of it the pupil has secured, and what to practise for it this week. Without a pupil the
landmarks themselves count as secured. It reads {formats}.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.description = _(DESCRIPTION).format(formats=_(READABLE))
    parser.add_argument("file", type=Path, metavar=_("FILE"), help=_("the score"))
    add_readiness_options(parser)
    parser.add_argument(
        "--tunes", action="store_true", help=_("only list the tunes of the file, one a line")
    )
    parser.add_argument("--tune", type=int, metavar=_("NUMBER"), help=_("which tune of several"))
    parser.add_argument(
        "--plan", action="store_true", help=_("put the week's cards first in the pupil's home plan")
    )


def run(arguments: argparse.Namespace) -> int:
    """Tell of the piece, and write what is asked for."""
    if arguments.plan and arguments.pupil is None:
        raise UserError(_("a home plan is for one pupil; add --pupil and a nickname"))
    if arguments.tunes:
        print_lines(score.title for score in read_piece(arguments.file))
        return 0
    pupil = known_pupil(arguments.pupil, studio_of(arguments)) if arguments.pupil else None
    context = practice_context(pupil, practice_options(arguments))
    told = report_piece(arguments.file, arguments.tune, pupil, context, moment_of(arguments))
    if not write_files([(arguments.json, told.json), (arguments.page, told.page)]):
        print_lines(told.lines())
        if told.week and not arguments.plan:
            hint = _("--pupil {nickname} --plan puts them first into the home plan.")
            print_lines(prose(hint.format(nickname=pupil.nickname if pupil else _("NICKNAME"))))
    if arguments.plan and pupil:
        plan, path = put_into_plan(told, pupil, datetime.now().astimezone())
        print_lines([plan_sentence(plan, path)])
    return 0
