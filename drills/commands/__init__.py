"""The command line."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from drills.commands import demonstrate, ports, practise
from drills.commands.refusal import Refusal
from drills.recorder import RecordingError

_EXAMPLES = """\
examples:
  landmark-drills practise --pupil Robin     practise; a new nickname makes a new pupil
  landmark-drills ports                      which pianos are connected
  landmark-drills demonstrate --headless     see it at work with no piano and no screen

Without a piano the keyboard on the screen is played by mouse, touch or computer keys.
"""
_COMMANDS = {"practise": practise, "demonstrate": demonstrate, "ports": ports}

INTERRUPTED = 128 + 2
"""What a shell reports of a program ended by SIGINT (POSIX, 2.8.2: more than 128)."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status.

    0; 2 after one sentence on what was wrong; `INTERRUPTED` after Ctrl-C in the terminal.
    """
    parser = argparse.ArgumentParser(
        prog="landmark-drills",
        description="Drill landmark notes at the piano: one stave card, one key, live feedback.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    subparsers = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, command in _COMMANDS.items():
        subparser = subparsers.add_parser(
            name,
            help=command.SUMMARY,
            description=command.DESCRIPTION,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        command.add_arguments(subparser)
    parsed = parser.parse_args(arguments)
    try:
        status: int = _COMMANDS[parsed.command].run(parsed)
    except (Refusal, RecordingError) as refusal:
        print(f"landmark-drills: {refusal}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return INTERRUPTED
    return status
