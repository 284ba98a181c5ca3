"""`landmark-drills warm-up`: a minute or two in the lesson, on what is not yet secured."""

from __future__ import annotations

import argparse

from drills.app.studio_defaults import known_pupil
from drills.commands.options import add_drill_options, add_studio_option, open_window
from drills.storage.studio import Pupil
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Warm a pupil up in the lesson. The cards come from what home practice left unsecured; the page that
shows them lets you leave landmarks, a stave or steps out, and Enter starts. The last page shows
what came of it and proposes the week's practice; Enter makes that the home plan.

keys: while it runs, Backspace asks the card again, the space bar goes on to the next, the up arrow
gives a hint, Enter the answer, Escape stops, and Tab shows or hides your notes beside the card.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("who warms up (asked in the window unless told)")
    )
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Warm up; without a nickname, pupil after pupil until the window is closed."""
    window, nickname = open_window(arguments), arguments.pupil
    pupil = None if nickname is None else known_pupil(nickname, window.studio)
    with window:
        if pupil is not None:
            window.safely(lambda: window.warm_up(pupil))
            return 2 if window.failed else 0

        def one_turn() -> bool:
            chosen = window.choose_pupil(teacher=False)
            return isinstance(chosen, Pupil) and window.warm_up(chosen)

        while window.safely(one_turn):
            pass
    return 0
