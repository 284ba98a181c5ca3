"""`landmark-drills start`, or `landmark-drills` alone: the window's first page."""

from __future__ import annotations

import argparse

from drills.commands.options import add_drill_options, add_studio_option
from drills.commands.sitting import Sitting
from drills.window.first_page import PRACTISE

DESCRIPTION = """\
Open the window and ask who is playing: the nickname practises, the button beside it warms up.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Let one pupil play after another, until the window is closed."""
    with Sitting(arguments) as sitting:
        while (chosen := sitting.choose_pupil()) is not None:
            pupil, use = chosen
            still_open = sitting.practise(pupil) if use == PRACTISE else sitting.warm_up(pupil)
            if not still_open:
                break
    return 0
