"""`landmark-drills settings`: how one pupil practises, set once."""

from __future__ import annotations

import argparse

from drills.app.pupil_settings import change_setting, keep_settings, told_settings
from drills.app.studio_defaults import known_pupil
from drills.app.tolerant_loading import load_settings
from drills.commands.options import add_screen_options, add_studio_option, studio_of
from drills.commands.output import print_lines
from drills.storage.settings import ABOUT
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Open the page on which it is set how one pupil practises: landmarks, steps, ladder, length, how
quick is fluent, names, staves, look. It is kept in NICKNAME.settings.toml in the pupil's folder.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--pupil", metavar=_("NICKNAME"), required=True, help=_("whose"))
    parser.add_argument("--list", action="store_true", help=_("print what is set"))
    parser.add_argument(
        "--change", action="append", default=[], metavar=_("ENTRY=VALUE"),
        help=_("set something without the window, in the words of the file: ") + ", ".join(ABOUT),
    )  # fmt: skip
    add_studio_option(parser)
    add_screen_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Open the page, or change and print what the options say."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments))
    settings = before = load_settings(pupil)
    for given in arguments.change:
        settings = change_setting(settings, given, pupil)
    if arguments.change:
        keep_settings(before, settings, pupil)
    if arguments.list or arguments.change:
        print_lines(told_settings(settings, pupil))
        return 0
    from drills.window.screen import open_screen
    from drills.window.static_window import show_alone
    from drills.window.teacher_scenes import settings_scene

    screen = open_screen(arguments.size, arguments.full_screen)
    show_alone(screen, settings_scene(pupil), settings.speech)
    return 0
