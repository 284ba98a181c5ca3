"""`landmark-drills practise`: a pupil practises in the window."""

from __future__ import annotations

import argparse

from drills.commands.options import add_drill_options, add_studio_option, pupil_of
from drills.commands.sitting import Sitting, only_pupil
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Open the window and practise: what the home plan asks for, if the teacher has set one. The session
is written, answer by answer, to the pupil's folder in the studio; nothing leaves this machine. Use
a nickname, never a real full name.

keys: Escape ends the session and then closes the window. Without a piano the two lower rows of
letters play from bass C, the two upper rows from middle C; left and right arrow shift them.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("who practises (the only pupil there is)")
    )
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Practise until the window is closed."""
    sitting = Sitting(arguments)
    pupil = pupil_of(arguments.pupil or only_pupil(sitting.studio), sitting.studio)
    with sitting:
        sitting.practise(pupil)
    return 0
