"""Which of the machine's MIDI inputs is the piano."""

from __future__ import annotations

import re
from collections.abc import Sequence

OWN_CLIENT = "landmark-drills"
_THROUGH = re.compile(r"\b(midi[ _-]?through|through port|thru)\b", re.IGNORECASE)
_ALSA_NUMBERS = re.compile(r" \d+:\d+$")


def plain_name(port: str) -> str:
    """Give a port's name without the numbers that ALSA adds anew at every plugging in."""
    return _ALSA_NUMBERS.sub("", port)


def piano_ports(names: Sequence[str]) -> tuple[str, ...]:
    """Give the ports that could be a piano: not the through-ports, and not our own."""
    return tuple(
        name
        for name in dict.fromkeys(names)
        if not _THROUGH.search(name) and not name.startswith(OWN_CLIENT)
    )


def preferred_port(ports: Sequence[str], known: Sequence[str]) -> str | None:
    """Give the one to take: the only one, or the one used last; None if that leaves a choice.

    `known` are the plain names of pianos used before, the last one last.
    """
    if len(ports) == 1:
        return ports[0]
    by_name = {plain_name(port): port for port in ports}
    return next((by_name[name] for name in reversed(known) if name in by_name), None)
