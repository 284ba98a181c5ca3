"""`landmark-drills ports`: which pianos are connected."""

from __future__ import annotations

import argparse

from drills.commands.options import add_studio_option, studio_of

SUMMARY = "list the connected pianos"
DESCRIPTION = (
    "List the MIDI inputs of this machine and the one that practise would take. The backend can "
    "be named by mido's variable MIDO_BACKEND, for example mido.backends.rtmidi/UNIX_JACK."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print one line an input, or how to go on without one."""
    from drills.piano import port_report  # noqa: PLC0415

    print(port_report(list(studio_of(arguments).piano_shifts())))
    return 0
