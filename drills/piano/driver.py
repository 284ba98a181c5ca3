"""What the piano asks of a MIDI library."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal, Protocol

# Whose times the notes carry: measured by the driver, measured by it in whole milliseconds, or
# taken when the message reaches Python.
ClockName = Literal["driver", "milliseconds", "arrival"]

# (byte values, seconds since the message before as the driver measured them or None if it does
# not say, monotonic ns at which Python got the message, ns for which it may have lain unread);
# called from a thread of the port's own.
Receive = Callable[[Sequence[int], float | None, int, int], None]


class NoMidiError(Exception):
    """There is no usable MIDI system; the message is a sentence for the person at the piano."""


class OpenPort(Protocol):
    """An input port that delivers messages until it is closed, or has failed."""

    failed: bool
    """Whether it can deliver no more, as when its device or the MIDI system has gone."""

    def close(self) -> None:
        """Stop delivering; no message is delivered after this returns."""


class Driver(Protocol):
    """A MIDI library, with one long-lived client to ask for names."""

    clock: ClockName

    def names(self) -> list[str]:
        """Return the names of all input ports now; NoMidiError if the system has gone."""

    def open(self, name: str, receive: Receive) -> OpenPort:
        """Open the port of that name; OSError if it cannot be opened."""

    def close(self) -> None:
        """Let go of the client that asks for names."""
