"""Which of the input ports is the piano."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from landmarks.translation import _

CLIENT_NAME = "Landmark drills"

# ALSA ends a name with client and port number (" 20:0"); its bridge to JACK writes "[20]". Both
# are counted anew when a device is plugged in again.
_NUMBERS = re.compile(r"\s+\d+:\d+$|\s*\[\d+\]")
# Ports that only pass messages on between programs.
_THROUGH = re.compile(r"\bthrough\b|\bthru\b|\bIAC\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Port:
    """An input port: its full name, whether it can be the piano, and why or why not."""

    name: str
    usable: bool
    why: str


def stable_name(name: str) -> str:
    """Return the part of a port's name that is the same when the device is plugged in again."""
    return _NUMBERS.sub("", name).strip()


def usable_names(names: Iterable[str]) -> list[str]:
    """Return the names that can be a piano, once each, in their order."""
    return [name for name in dict.fromkeys(names) if not _why_not(name)]


def find(wanted: str | None, names: Sequence[str]) -> str | None:
    """Return the name that is `wanted`, exactly or but for the numbers; None if there is none."""
    if wanted is None:
        return None
    if wanted in names:
        return wanted
    return next((name for name in names if stable_name(name) == stable_name(wanted)), None)


def choose(names: Sequence[str], preferred: str | None) -> str | None:
    """Return the piano among usable names: the preferred one, or the only one, or None."""
    found = find(preferred, names)
    if found is None and len(names) == 1:
        return names[0]
    return found


def describe(names: Iterable[str], preferred: str | None) -> list[Port]:
    """Say of every port, in the order given, what would become of it."""
    every = list(dict.fromkeys(names))
    usable = usable_names(every)
    chosen = choose(usable, preferred)
    return [Port(name, name in usable, _why(name, usable, chosen, preferred)) for name in every]


def _why_not(name: str) -> str:
    if _THROUGH.search(name):
        return _("passed over: it only hands messages from one program to another")
    if name.startswith(CLIENT_NAME):
        return _("passed over: it belongs to this program")
    return ""


def _why(name: str, usable: Sequence[str], chosen: str | None, preferred: str | None) -> str:
    why_not = _why_not(name)
    if why_not:
        return why_not
    if name == chosen and find(preferred, [name]):
        return _("taken: it is the piano used last")
    if name == chosen:
        return _("taken: it is the only piano")
    if chosen is not None:
        return _("not taken: {piano} is preferred").format(piano=chosen)
    return _("one of {count}: the first on which a key is pressed is taken").format(
        count=len(usable)
    )
