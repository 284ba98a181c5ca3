"""Input ports through any other backend of mido; times are those of arrival in Python."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from drills.piano.driver import ClockName, NoMidiError, OpenPort, Receive
from drills.piano.polling_port import PollingPort
from drills.piano.quiet import quiet_libraries
from landmarks.translation import _

if TYPE_CHECKING:
    from mido.backends.backend import Backend


class MidoDriver:
    """A mido backend, named by MIDO_BACKEND."""

    clock: ClockName = "arrival"

    def __init__(self, backend: Backend) -> None:
        """Load a `mido.backends.backend.Backend`; NoMidiError if it cannot be loaded."""
        self._backend = backend
        try:
            backend.load()
        except (ImportError, OSError) as error:
            raise NoMidiError(
                _(
                    "The MIDI backend {name} cannot be loaded ({error}): install it or correct "
                    "MIDO_BACKEND."
                ).format(name=backend.name, error=error)
            ) from error

    def names(self) -> list[str]:
        """Return the names of all input ports now; NoMidiError if the system has gone."""
        try:
            with quiet_libraries():
                return list(self._backend.get_input_names())
        except (OSError, ValueError, RuntimeError) as error:
            raise NoMidiError(
                _("The MIDI backend {name} fails ({error}).").format(
                    name=self._backend.name, error=error
                )
            ) from error

    def open(self, name: str, receive: Receive) -> OpenPort:
        """Open the port of that name; OSError if it cannot be opened."""
        port = self._backend.open_input(name)

        def ask(before: int) -> None:
            for message in port.iter_pending():
                arrival = time.monotonic_ns()
                receive(message.bytes(), None, arrival, arrival - before)

        return PollingPort(ask, port.close)

    def close(self) -> None:
        """Let go of the client that asks for names."""
