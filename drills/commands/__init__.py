"""The command line."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

from drills.commands.refusal import Refusal
from drills.recorder import RecordingError

_EXAMPLES = """\
examples:
  landmark-drills                            open the window: who is playing?
  landmark-drills practise --pupil Robin     practise; a new nickname makes a new pupil
  landmark-drills warm-up --pupil Robin      in the lesson, on what is not yet secured
  landmark-drills review --pupil Robin       which notes are secure, which are slow, and why
  landmark-drills spot --pupil Robin         find every treble G in a line of music
  landmark-drills handout --pupil Robin week.html      a practice sheet to print
  landmark-drills ports                      which pianos are connected
  landmark-drills demonstrate --headless     see it at work with no piano and no screen

Without a piano the keyboard on the screen is played by mouse, touch or computer keys.
"""
_COMMANDS = {
    "start": "open the window and ask who is playing (without a command, too)",
    "practise": "practise in a window",
    "warm-up": "warm a pupil up in the lesson",
    "spot": "find every treble G in a line of music",
    "handout": "write a practice sheet to print",
    "beginnings": "set down what a pupil brings, and where she begins",
    "settings": "set how a pupil practises",
    "review": "see how surely and quickly each note is read",
    "piece": "see what a pupil must read in a piece",
    "pieces": "rank a shelf of scores by how ready a pupil is for each",
    "gather": "take in session files that came from another machine",
    "export": "pack all that is kept of a pupil into one file",
    "forget": "remove all that is kept of a pupil",
    "demonstrate": "watch a simulated pupil practise",
    "ports": "list the connected pianos",
    "benchmark": "race the planner against published ways of choosing cards",
}
"""Each is a module of this package, read only when it is asked for."""

INTERRUPTED = 128 + 2
"""What a shell reports of a program ended by SIGINT (POSIX, 2.8.2: more than 128)."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status.

    0; 2 after one sentence on what was wrong; `INTERRUPTED` after Ctrl-C in the terminal.
    """
    given = list(sys.argv[1:] if arguments is None else arguments) or ["start"]
    try:
        return run_command(given)
    except (Refusal, RecordingError) as refusal:
        print(f"landmark-drills: {refusal}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return INTERRUPTED


def run_command(given: Sequence[str]) -> int:
    """Run the words of a command line and give the exit status. Refusal if it cannot go on."""
    parser = argparse.ArgumentParser(
        prog="landmark-drills",
        description="Drill landmark notes at the piano: one stave card, one key, live feedback.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    subparsers = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, summary in _COMMANDS.items():
        subparser = subparsers.add_parser(
            name, help=summary, formatter_class=argparse.RawDescriptionHelpFormatter
        )
        if name in given[:1]:
            command = import_module(f"drills.commands.{name.replace('-', '_')}")
            subparser.description = command.DESCRIPTION
            command.add_arguments(subparser)
            subparser.set_defaults(run=command.run)
    parsed = parser.parse_args(given)
    status: int = parsed.run(parsed)
    return status
