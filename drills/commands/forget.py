"""`landmark-drills forget`: remove all that is kept of a pupil."""

from __future__ import annotations

import argparse
import sys

from drills.commands.options import add_studio_option, known_pupil, studio_of
from drills.commands.refusal import Refusal
from drills.storage.pupil_export import belongings, forget
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
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
    told = f"{pupil.nickname}: {belongings(pupil)}, {pupil.folder}"
    if not arguments.yes and not _is_meant(told):
        print(_("Nothing was removed."))
        return 0
    try:
        forget(pupil)
    except OSError as error:
        reason = error.strerror or error
        raise Refusal(
            _("{folder}: this folder cannot be removed ({reason}); remove it by hand").format(
                folder=pupil.folder, reason=reason
            )
        ) from None
    print(_("Removed {belongings}.").format(belongings=told))
    print(_("Pages, plans and copies that were saved elsewhere are not touched."))
    return 0


def _is_meant(told: str) -> bool:
    if not sys.stdin.isatty():
        raise Refusal(_("this removes all that is kept of a pupil; add --yes if it is meant"))
    question = _("Remove for good {belongings}? Type {yes}: ").format(belongings=told, yes=_("yes"))
    return input(question).strip().casefold() in ("yes", _("yes"))
