"""`landmark-drills start`, or `landmark-drills` alone: the whole program in one window."""

from __future__ import annotations

import argparse

from drills.commands.desk import Desk
from drills.commands.options import add_drill_options, add_studio_option
from drills.commands.sitting import Chosen, Sitting
from drills.storage.studio import Pupil
from landmarks.translation import noted

DESCRIPTION = noted("""\
Open the window and ask who is playing: the mark practises. In the corner is the teacher's page,
from which everything else is done that the other commands do.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Let one pupil play after another, until the window is closed."""
    from drills.commands import run_command  # noqa: PLC0415

    with Sitting(arguments) as sitting:
        desk = Desk(sitting, run_command)

        def one_turn() -> bool:
            chosen = sitting.choose_pupil()
            if chosen is Chosen.TEACHER:
                return desk.work()
            return isinstance(chosen, Pupil) and sitting.practise(chosen)

        while desk.safely(one_turn):
            pass
    return 0
