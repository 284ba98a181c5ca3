"""`landmark-drills spot`: find every treble G in a line of music."""

from __future__ import annotations

import argparse

from drills.app.spotting_options import SPOTTING_MINUTES
from drills.app.studio_defaults import known_pupil
from drills.commands.find_options import add_find_options, spotting_options
from drills.commands.options import (
    add_drill_options,
    add_minutes_option,
    add_studio_option,
    open_window,
)
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Open the window on a line of music and find notes in it: touch or click every treble G, or play
its key, which marks the next one from left to right. The line comes from a score, a few bars at a
time, or is invented from the landmarks of the week.

keys: Escape ends the session and then closes the window; the up arrow points at the next note.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("who looks for notes (the only pupil there is)")
    )
    add_studio_option(parser)
    add_find_options(parser)
    add_minutes_option(parser, SPOTTING_MINUTES)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Look for notes until the window is closed."""
    window = open_window(arguments)
    pupil = known_pupil(arguments.pupil, window.studio)
    pages = window.spotting_pages(pupil, spotting_options(arguments))
    with window:
        window.safely(lambda: window.spot(pupil, pages, arguments.minutes))
    return 2 if window.failed else 0
