"""`landmark-drills beginnings`: what a pupil brings, and where on the ladder she stands."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path

from drills.app.practice_context import practice_context
from drills.app.prior_knowledge import (
    add_answers,
    climber,
    keep_observations,
    observations_for,
    set_on_rung,
    told_observations,
)
from drills.app.session_clock import SessionClock
from drills.app.studio_defaults import known_pupil
from drills.commands.options import (
    add_drill_options,
    add_studio_option,
    practice_options,
    studio_of,
)
from drills.commands.output import print_lines, write_files
from drills.learning.prior_knowledge.question import questions
from drills.reports.parent_questions import parents_sheet
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Set down what a pupil brings to her first lessons, by mouse, finger or arrow keys, and change it as
you watch. From the first answer on, practice follows the ladder: shapes, keys, landmarks, steps,
mixed clefs, beginning where she can. Every move and its reason is in her session files.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--pupil", metavar=_("NICKNAME"), help=_("whose (the only pupil there is)"))
    parser.add_argument(
        "--list",
        action="store_true",
        help=_("print what is set down, and where she stands and why"),
    )
    parser.add_argument(
        "--seen", action="append", default=[], metavar=_("QUESTION=ANSWER"),
        help=_("set an answer without the window: ") + ", ".join(questions()),
    )  # fmt: skip
    parser.add_argument(
        "--rung",
        metavar=_("NAME"),
        help=_("set her on a rung of the ladder, or one `up` or `down`"),
    )
    parser.add_argument(
        "--sheet", type=Path, metavar=_("FILE.html"),
        help=_("write the questions for parents, to print or to fill in on the screen"),
    )  # fmt: skip
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Open the page, or do what the options say and print where she stands."""
    if write_files([(arguments.sheet, parents_sheet)]):
        return 0
    pupil = known_pupil(arguments.pupil, studio_of(arguments))
    context = practice_context(pupil, practice_options(arguments))
    before, now = observations_for(pupil), datetime.now().astimezone()
    after = add_answers(before, arguments.seen, now)
    if arguments.rung is not None:
        stands = climber(after, pupil, context.landmarks)
        after = set_on_rung(after, arguments.rung, stands, now)
    if after != before:
        keep_observations(after, pupil)
    if arguments.list or after != before:
        print_lines(told_observations(after, climber(after, pupil, context.landmarks)))
        return 0
    from drills.window.screen import open_screen
    from drills.window.static_window import show_alone
    from drills.window.teacher_scenes import prior_knowledge_scene

    screen = open_screen(arguments.size, arguments.full_screen)
    scene = prior_knowledge_scene(pupil, context.landmarks, SessionClock().now)
    show_alone(screen, scene, context.settings.speech)
    return 0
