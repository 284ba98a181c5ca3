"""`landmark-drills practise`: a pupil practises in the window."""

from __future__ import annotations

import argparse

from drills.app.studio_defaults import practising_pupil
from drills.commands.options import add_drill_options, add_studio_option, open_window
from drills.commands.output import print_lines
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
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
    window = open_window(arguments)
    pupil, is_new = practising_pupil(arguments.pupil, window.studio)
    with window:
        if is_new:
            told = _("{name} is new in {folder}").format(
                name=pupil.nickname, folder=window.studio.folder
            )
            print_lines([told])
        window.safely(lambda: window.practise(pupil))
    return 2 if window.failed else 0
