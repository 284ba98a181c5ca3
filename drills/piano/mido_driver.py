"""Input ports through any other backend of mido; times are those of arrival in Python."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from drills.piano.driver import ClockName, NoMidiError, OpenPort, Receive
from drills.piano.quiet import quiet_libraries

if TYPE_CHECKING:
    from mido import Message
    from mido.backends.backend import Backend
    from mido.ports import BaseInput

# A backend without callbacks is asked this often; seconds.
ASK_EVERY = 0.002


class MidoDriver:
    """A mido backend, named by MIDO_BACKEND."""

    clock: ClockName = "arrival"

    def __init__(self, backend: Backend) -> None:
        """Load a `mido.backends.backend.Backend`; NoMidiError if it cannot be loaded."""
        os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
        self._backend = backend
        self._ports: list[_MidoPort] = []
        try:
            backend.load()
        except (ImportError, OSError) as error:
            raise NoMidiError(
                f"The MIDI backend {backend.name} cannot be loaded ({error}): "
                "install it or correct MIDO_BACKEND."
            ) from error

    def names(self) -> list[str]:
        """Give the names of all input ports now; NoMidiError if the system has gone."""
        try:
            self._look_again()
            with quiet_libraries():
                return list(self._backend.get_input_names())
        except (OSError, ValueError, RuntimeError) as error:
            raise NoMidiError(f"The MIDI backend {self._backend.name} fails ({error}).") from error

    def open(self, name: str, receive: Receive) -> OpenPort:
        """Open the port of that name; OSError if it cannot be opened."""

        def arrived(message: Message) -> None:
            receive(message.bytes(), None, time.monotonic_ns())

        try:
            port = _MidoPort(self._backend.open_input(name, callback=arrived))
        except ValueError:  # So a backend says that it has no callbacks.
            port = _AskedPort(self._backend.open_input(name), arrived)
        self._ports.append(port)
        return port

    def close(self) -> None:
        """Let go of the client that asks for names."""

    def _look_again(self) -> None:
        """Make PortMidi list its devices anew, which it does only when nothing is open."""
        self._ports = [port for port in self._ports if not port.closed]
        midi = getattr(self._backend.module, "midi", None)
        if midi is not None and not self._ports:
            midi.quit()


class _MidoPort:
    def __init__(self, port: BaseInput) -> None:
        self._port = port
        self.closed = False

    def close(self) -> None:
        self.closed = True
        self._port.close()


class _AskedPort(_MidoPort):
    """A port whose backend has no callbacks, asked over and over by a thread of its own."""

    def __init__(self, port: BaseInput, arrived: Callable[[Message], None]) -> None:
        super().__init__(port)
        self._arrived = arrived
        self._thread = threading.Thread(target=self._ask, name="piano", daemon=True)
        self._thread.start()

    def close(self) -> None:
        self.closed = True
        self._thread.join()
        self._port.close()

    def _ask(self) -> None:
        while not self.closed:
            try:
                for message in self._port.iter_pending():
                    self._arrived(message)
            except OSError:  # The device has gone; its name tells the rest.
                return
            time.sleep(ASK_EVERY)
