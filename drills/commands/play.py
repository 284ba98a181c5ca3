"""`landmark-drills play`: the teacher plays a piece, and the page goes with her."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.app.studio_defaults import known_pupil
from drills.commands.options import add_drill_options, add_studio_option, open_window
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Open the window on a score and play it to a pupil: the page goes with the playing, line by line, and
stays where you stop; slips, returns and bars left out do no harm. Nothing of it is kept or counted.

keys: Space asks the pupil to find something in the very line that you play; Escape closes the
window.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("to whom it is played (the only pupil there is)")
    )
    add_studio_option(parser)
    parser.add_argument(
        "--score", type=Path, metavar=_("FILE"), required=True, help=_("the score that is played")
    )
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Follow the playing until the window is closed."""
    from drills.window.reading_flow import ReadingFlow

    window = open_window(arguments)
    pupil = known_pupil(arguments.pupil, window.studio)
    flow = ReadingFlow(window)
    lines = flow.lines_of_piece(arguments.score)
    with window:
        window.safely(lambda: flow.play_to(pupil, lines))
    return 2 if window.failed else 0
