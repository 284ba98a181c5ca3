"""What the piano asks of a MIDI library."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal, Protocol

# Whose times the notes carry: measured by the driver, or taken when the message reaches Python.
ClockName = Literal["driver", "arrival"]

# (byte values, seconds since the message before as the driver measured them or None if it does
# not say, monotonic ns at which Python got the message, ns for which it may have lain unread);
# called from a thread of the port's own.
Receive = Callable[[Sequence[int], float | None, int, int], None]


class NoMidiError(Exception):
    """There is no usable MIDI system; the message is a sentence for the person at the piano."""


class OpenPort(Protocol):
    """An input port that delivers messages until it is closed."""

    def close(self) -> None:
        """Stop delivering; no message is delivered after this returns."""


class Driver(Protocol):
    """A MIDI library, with one long-lived client to ask for names."""

    clock: ClockName

    def names(self) -> list[str]:
        """Give the names of all input ports now; NoMidiError if the system has gone."""

    def open(self, name: str, receive: Receive) -> OpenPort:
        """Open the port of that name; OSError if it cannot be opened."""

    def close(self) -> None:
        """Let go of the client that asks for names."""


def find_driver() -> Driver:
    """Give a driver for the backend mido chooses (MIDO_BACKEND counts); NoMidiError if none works.

    python-rtmidi is used directly, because mido drops the times it gives.
    """
    from mido.backends.backend import Backend  # noqa: PLC0415

    backend = Backend()
    if backend.name == "mido.backends.rtmidi":
        from drills.piano.rtmidi_driver import RtmidiDriver  # noqa: PLC0415

        return RtmidiDriver(backend.api)
    from drills.piano.mido_driver import MidoDriver  # noqa: PLC0415

    return MidoDriver(backend)
