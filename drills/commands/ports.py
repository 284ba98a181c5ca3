"""`landmark-drills ports`: which pianos are connected."""

from __future__ import annotations

import argparse

from drills.commands.options import add_studio_option, studio_of
from drills.commands.output import print_lines
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop(
    "List the MIDI inputs of this machine and the one that practise would take. The backend can "
    "be named by mido's variable MIDO_BACKEND, for example mido.backends.rtmidi/UNIX_JACK."
)
NONE = gettext_noop("No piano is connected. Switch one on and plug in its USB cable.")
WITHOUT = gettext_noop("Without a piano, practise with the keyboard on the screen.")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print one line an input and what would become of it, or how to go on without one."""
    from drills.piano import Piano

    piano = Piano(lambda: None, preferred=studio_of(arguments).last_piano())
    ports = piano.port_names()
    piano.close()
    print_lines(f"{port.name}: {port.why}" for port in ports)
    if not any(port.usable for port in ports):
        print_lines([f"{piano.trouble or _(NONE)} {_(WITHOUT)}"])
    return 0
