"""Input ports through the PortMidi that pygame carries, for Pythons without python-rtmidi.

PortMidi stamps each message with the driver's time in whole milliseconds (pygame documentation,
`pygame.midi.Input.read`). It lists its devices once, when it is started, so that a device that
came or went is seen only when nothing is open and it is started anew.
"""

from __future__ import annotations

import os
import time
from collections.abc import Sequence
from typing import Any

from drills.piano.driver import ClockName, NoMidiError, OpenPort, Receive
from drills.piano.messages import first_message
from drills.piano.polling_port import PollingPort
from drills.piano.quiet import quiet_libraries
from landmarks.translation import _

# Messages held while the program is busy: over a minute of MIDI clock at 120 beats a minute.
BUFFER_LENGTH = 4096
MILLISECONDS = 1000  # in a second


class PortMidiDriver:
    """The system's MIDI interface (ALSA, Core MIDI, Windows MM) by way of `pygame.midi`."""

    clock: ClockName = "milliseconds"

    def __init__(self) -> None:
        """Start PortMidi; NoMidiError if it cannot be loaded."""
        os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
        try:
            from pygame import midi
        except (ImportError, OSError) as error:
            raise NoMidiError(
                _(
                    "The MIDI part of pygame cannot be loaded ({error}): install pygame anew."
                ).format(error=error)
            ) from error
        self._midi: Any = midi
        self._opened = 0

    def names(self) -> list[str]:
        """Return the names of all input ports; NoMidiError if the system has gone.

        As long as a port is open these are the ports there were when it was opened.
        """
        try:
            self._look_again()
            return list(self._numbers())
        except Exception as error:  # pygame raises the bare class for whatever PortMidi reports.
            raise NoMidiError(
                _("The MIDI system no longer answers ({error}).").format(error=error)
            ) from error

    def open(self, name: str, receive: Receive) -> OpenPort:
        """Open the port of that name; OSError if it cannot be opened."""
        try:
            with quiet_libraries():
                self._look_again()
                port = self._midi.Input(self._numbers()[name], BUFFER_LENGTH)
        except KeyError:
            raise OSError(_("the port {name} has gone").format(name=name)) from None
        except Exception as error:  # As above.
            raise OSError(str(error)) from error
        self._opened += 1
        return PollingPort(_Reader(port, receive).ask, lambda: self._close(port))

    def close(self) -> None:
        """Stop PortMidi."""
        self._midi.quit()

    def _close(self, port: Any) -> None:
        self._opened -= 1
        port.close()

    def _look_again(self) -> None:
        """Start PortMidi, anew if nothing is open, so that it looks for devices."""
        with quiet_libraries():
            if self._opened == 0:
                self._midi.quit()
            self._midi.init()

    def _numbers(self) -> dict[str, int]:
        """Return the device number of each input by its name; of two with one name the first."""
        numbers: dict[str, int] = {}
        for number in range(self._midi.get_count()):
            _interface, name, is_input, _is_output, _opened = self._midi.get_device_info(number)
            if is_input:
                numbers.setdefault(_text(name), number)
        return numbers


class _Reader:
    """Hands on what one open port has received, with the driver's time between messages."""

    def __init__(self, port: Any, receive: Receive) -> None:
        self._port = port
        self._receive = receive
        self._stamp: int | None = None

    def ask(self, before: int) -> None:
        """Deliver what has arrived since `before` (monotonic ns); OSError if the port is dead."""
        while (event := self._read()) is not None:
            data, stamp = event
            arrival = time.monotonic_ns()
            delta = 0 if self._stamp is None else stamp - self._stamp
            self._stamp = stamp
            self._receive(first_message(data), delta / MILLISECONDS, arrival, arrival - before)

    def _read(self) -> tuple[Sequence[int], int] | None:
        # One at a time: mido reports notes that were lost where several were asked for.
        try:
            return self._port.read(1)[0] if self._port.poll() else None
        except Exception as error:  # As above.
            raise OSError(str(error)) from error


def _text(name: bytes) -> str:
    """Return a device's name, which Windows gives in whatever the machine's letters are."""
    return name.decode("utf-8", "replace")
