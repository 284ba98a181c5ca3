"""`landmark-drills start`, or `landmark-drills` alone: the whole program in one window."""

from __future__ import annotations

import argparse

from drills.commands.options import add_drill_options, add_studio_option, open_window
from drills.storage.studio import Pupil
from landmarks.translation import gettext_noop

DESCRIPTION = gettext_noop("""\
Open the window and ask who is playing: the mark practises. In the corner is the teacher's page,
from which everything else is done that the other commands do.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Let one pupil play after another, until the window is closed."""
    from drills.window.teacher_flow import TeacherFlow
    from drills.window.window_flow import Chosen

    with open_window(arguments) as window:
        teacher = TeacherFlow(window)

        def one_turn() -> bool:
            chosen = window.choose_pupil()
            if chosen is Chosen.TEACHER:
                return teacher.work()
            return isinstance(chosen, Pupil) and window.practise(chosen)

        while window.safely(one_turn):
            pass
    return 0
