"""The command line."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn

from drills.commands import python_version  # noqa: F401 - before what an old one lacks

# isort: split
from drills import __version__
from drills.app.faults import keep_fault
from drills.app.tolerant_loading import LOG
from drills.commands.language import OPTION, speak_as_asked
from drills.commands.output import TroubleHandler, print_trouble
from drills.storage.studio import default_folder
from drills.text.errors import DrillsError
from drills.text.printable import printable
from landmarks.translation import _, gettext_noop, languages

_EXAMPLES = gettext_noop("""\
examples:
  landmark-drills                            open the window: who is playing?
  landmark-drills practise --pupil Robin     practise; a new nickname makes a new pupil
  landmark-drills warm-up --pupil Robin      in the lesson, on what is not yet secured
  landmark-drills review --pupil Robin       which notes are secure, which are slow, and why
  landmark-drills spot --pupil Robin         find every treble G in a line of music
  landmark-drills read --pupil Robin         play a line of music at your own pace
  landmark-drills handout --pupil Robin week.html      a practice sheet to print
  landmark-drills ports                      which pianos are connected
  landmark-drills demonstrate --headless     see it at work with no piano and no screen

Without a piano the keyboard on the screen is played by mouse, touch or computer keys.
""")
_COMMANDS = {
    "start": gettext_noop("open the window and ask who is playing (without a command, too)"),
    "practise": gettext_noop("practise in a window"),
    "warm-up": gettext_noop("warm a pupil up in the lesson"),
    "spot": gettext_noop("find every treble G in a line of music"),
    "read": gettext_noop("play a line of music, each note from pencil to ink"),
    "play": gettext_noop("play a piece to a pupil: the page goes with the playing"),
    "handout": gettext_noop("write a practice sheet to print"),
    "beginnings": gettext_noop("set down what a pupil brings, and where she begins"),
    "settings": gettext_noop("set how a pupil practises"),
    "review": gettext_noop("see how surely and quickly each note is read"),
    "piece": gettext_noop("see what a pupil must read in a piece"),
    "pieces": gettext_noop("rank a shelf of scores by how ready a pupil is for each"),
    "gather": gettext_noop("take in session files that came from another machine"),
    "export": gettext_noop("pack all that is kept of a pupil into one file"),
    "forget": gettext_noop("remove all that is kept of a pupil"),
    "demonstrate": gettext_noop("watch a simulated pupil practise"),
    "ports": gettext_noop("list the connected pianos"),
    "guide": gettext_noop("open the guide: how everything is used"),
    "shortcut": gettext_noop("put the program among the other programs of this computer"),
    "benchmark": gettext_noop("race the planner against published ways of choosing cards"),
}
"""Each is a module of this package, read only when it is asked for."""

INTERRUPTED = 128 + 2
"""What a shell reports of a program ended by SIGINT (POSIX, 2.8.2: more than 128)."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status.

    0; 2 after one sentence on what was wrong; `INTERRUPTED` after Ctrl-C in the terminal.
    """
    LOG.handlers, LOG.propagate = [TroubleHandler()], False
    try:
        given = speak_as_asked(sys.argv[1:] if arguments is None else arguments)
        return _run_command(given or ["start"])
    except DrillsError as error:
        print_trouble(error)
        return 2
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        print_trouble(_failed(error))
        return 2


class _Parser(argparse.ArgumentParser):
    """Refuses without passing on what a terminal would obey."""

    def error(self, message: str) -> NoReturn:
        """Print how the command is used and what was wrong, and end with status 2."""
        super().error(printable(message))


def _run_command(given: Sequence[str]) -> int:
    """Run the words of a command line and return the exit status."""
    parser = _Parser(
        prog="landmark-drills",
        description=_("Drill landmark notes at the piano: one stave card, one key, live feedback."),
        epilog=_(_EXAMPLES),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        OPTION, choices=languages(), metavar=_("LANGUAGE"),
        help=_("the language to speak, {languages}, before the command (the system's)").format(
            languages=", ".join(languages())
        ),
    )  # fmt: skip
    parser.add_argument(
        "--version", action="version", version=f"landmark-drills {__version__}",
        help=_("print which version this is"),
    )  # fmt: skip
    subparsers = parser.add_subparsers(dest="command", required=True, metavar=_("COMMAND"))
    for name, summary in _COMMANDS.items():
        subparser = subparsers.add_parser(
            name, help=_(summary), formatter_class=argparse.RawDescriptionHelpFormatter
        )
        if name in given[:1]:
            command = import_module(f"drills.commands.{name.replace('-', '_')}")
            subparser.description = _(command.DESCRIPTION)
            command.add_arguments(subparser)
            subparser.set_defaults(run=command.run)
    parsed = parser.parse_args(given)
    status: int = parsed.run(parsed)
    return status


def _failed(error: Exception) -> str:
    """Say that the program itself failed, and where that is noted."""
    kept = keep_fault(error, default_folder())
    if kept is None:
        return _("the program failed ({kind}); what was written before is kept").format(
            kind=type(error).__name__
        )
    return _(
        "the program failed ({kind}); what was written before is kept, which line failed is noted "
        "in {path}, and you may send that file to whoever looks after the program"
    ).format(kind=type(error).__name__, path=kept)
