"""`landmark-drills shortcut`: the program among the other programs of this computer."""

from __future__ import annotations

import argparse

from drills.app.shortcut import add_shortcut, remove_shortcut
from drills.commands.output import print_lines
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Put the program among the other programs of this computer, where it is started by a click: a desktop
entry on Linux, a link in the Start menu on Windows, an application in your own folder on macOS.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--remove", action="store_true", help=_("take it away again"))


def run(arguments: argparse.Namespace) -> int:
    """Add or remove, and print what; 1 if there was nothing to remove."""
    if not arguments.remove:
        print_lines([str(add_shortcut())])
        return 0
    removed = remove_shortcut()
    print_lines(map(str, removed) if removed else [_("There was nothing to remove.")])
    return 0 if removed else 1
