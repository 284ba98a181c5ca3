"""`landmark-drills forget`: remove all that is kept of a pupil."""

from __future__ import annotations

import argparse
import sys

from drills.app.pupil_files import forget_pupil, what_is_kept
from drills.app.studio_defaults import known_pupil
from drills.app.user_error import UserError
from drills.commands.options import add_studio_option, studio_of
from drills.commands.output import print_lines
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Remove a pupil's folder from the studio: every session, the home plan, all else in it. It cannot be
brought back. Pages, tables and copies that you keep elsewhere are yours to remove.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("pupil", metavar=_("PUPIL"), help=_("nickname of the pupil"))
    add_studio_option(parser)
    parser.add_argument("--yes", action="store_true", help=_("do not ask"))


def run(arguments: argparse.Namespace) -> int:
    """Ask once, remove, and say what was removed."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments))
    if not arguments.yes and not _is_meant(f"{pupil.nickname}: {what_is_kept(pupil)}"):
        print_lines([_("Nothing was removed.")])
        return 0
    print_lines(forget_pupil(pupil))
    return 0


def _is_meant(told: str) -> bool:
    if not sys.stdin.isatty():
        raise UserError(_("this removes all that is kept of a pupil; add --yes if it is meant"))
    question = _("Remove for good {belongings}? Type {yes}: ").format(belongings=told, yes=_("yes"))
    return input(question).strip().casefold() in ("yes", _("yes"))
