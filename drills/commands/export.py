"""`landmark-drills export`: pack all that is kept of a pupil into one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.pupil_files import export_pupil
from drills.app.studio_defaults import known_pupil
from drills.commands.options import add_studio_option, studio_of
from drills.commands.output import print_lines
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Pack every file in a pupil's folder, with a short readme, into a ZIP file that only you can read.
The same files give the same ZIP file.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("pupil", metavar=_("PUPIL"), help=_("nickname of the pupil"))
    parser.add_argument("file", type=Path, metavar=_("FILE.zip"), help=_("where to put it"))
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Pack, and say what was packed; 2 if something could not be, 1 without a session."""
    made = export_pupil(known_pupil(arguments.pupil, studio_of(arguments)), arguments.file)
    print_lines(made.sentences())
    if not made.belongings.sessions:
        return 1
    return 2 if made.left_out else 0
