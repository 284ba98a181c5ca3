"""`landmark-drills read`: play a line of music, each note from pencil to ink."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import get_args

from drills.app.reading_options import READING_MINUTES, ReadingOptions
from drills.app.studio_defaults import known_pupil
from drills.commands.options import (
    add_drill_options,
    add_minutes_option,
    add_studio_option,
    open_window,
)
from drills.sessions.effects import Hands
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Open the window on a line of music and play it at the piano, at your own pace: each note goes from
pencil to ink as it is played, and a wrong key is shown where it lives. The line comes from a score,
a few bars at a time, or is invented about the notes of the week. When it is over, it shows where
you thought for a while; it stays until you go on.

keys: Space or Enter goes on, Backspace reads the line once more, Escape ends the session and then
closes the window.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("who reads (the only pupil there is)")
    )
    add_studio_option(parser)
    parser.add_argument(
        "--score", type=Path, metavar=_("FILE"), help=_("take the lines from this score")
    )
    parser.add_argument(
        "--bar", type=int, default=1, help=_("the bar of the score to begin at (1)")
    )
    parser.add_argument(
        "--hands", choices=get_args(Hands), default="both",
        help=_("which hands play: the right one reads the upper stave, the left one the lower"),
    )  # fmt: skip
    add_minutes_option(parser, READING_MINUTES)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Read lines until the window is closed."""
    from drills.window.reading_flow import ReadingFlow

    window = open_window(arguments)
    pupil = known_pupil(arguments.pupil, window.studio)
    options = ReadingOptions(arguments.score, arguments.bar, arguments.hands)
    flow = ReadingFlow(window)
    lines = flow.lines(pupil, options)
    with window:
        window.safely(lambda: flow.read(pupil, lines, options.hands, arguments.minutes))
    return 2 if window.failed else 0
