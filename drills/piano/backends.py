"""The ways to reach MIDI inputs: python-rtmidi with its driver's clock, or another of mido's.

`MIDO_BACKEND` names the backend, as mido has it: "mido.backends.rtmidi/UNIX_JACK".
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, Protocol

import mido

from drills.log import Clock
from drills.piano.driver_clock import DriverClock
from drills.piano.ports import OWN_CLIENT

Hear = Callable[[bytes, int], None]
"""Takes one message's bytes and when it came (monotonic ns); called from the driver's thread."""

ALSA_SEQUENCER = Path("/dev/snd/seq")
"""Looked for first, because ALSA complains on the terminal where it is missing."""
_RTMIDI = "mido.backends.rtmidi"


class OpenPort(Protocol):
    """A port that is being listened to."""

    def close(self) -> None:
        """Stop listening."""


class Backend(Protocol):
    """One way to reach the machine's MIDI inputs."""

    clock: Clock

    def names(self) -> list[str]:
        """Give the names of all inputs."""

    def listen(self, name: str, hear: Hear) -> OpenPort:
        """Open an input. OSError if it is gone or taken."""

    def close(self) -> None:
        """Let go of the MIDI system."""


def open_backend() -> Backend:
    """Open the backend that mido is set to. OSError, in one sentence, if there is none."""
    chosen = mido.backend
    if chosen.name == _RTMIDI:
        return RtmidiBackend(chosen.api)
    try:
        chosen.load()
    except Exception as error:
        raise OSError(f"the MIDI backend {chosen.name} cannot be loaded ({error})") from None
    return MidoBackend(chosen)


class RtmidiBackend:
    """python-rtmidi used directly, because mido drops the time that its driver measured."""

    clock: Clock = "driver"

    def __init__(self, api: str | None) -> None:
        """Open one client to look for names with; it is kept, since each new one costs."""
        import rtmidi  # noqa: PLC0415

        if api is None and sys.platform == "linux" and not ALSA_SEQUENCER.exists():
            raise OSError(f"this machine has no MIDI sequencer ({ALSA_SEQUENCER})")
        self._rtmidi = rtmidi
        by_name = {
            name.removeprefix("API_"): getattr(rtmidi, name)
            for name in dir(rtmidi)
            if name.startswith("API_")
        }
        if api is not None and api not in by_name:
            raise OSError(f"MIDO_BACKEND names the MIDI system {api}, which is not known here")
        self._api = rtmidi.API_UNSPECIFIED if api is None else by_name[api]
        try:
            self._probe = self._client("names")
        except Exception as error:
            raise OSError(f"this machine's MIDI system cannot be opened ({error})") from None

    def names(self) -> list[str]:
        """Give the names of all inputs."""
        return list(self._probe.get_ports())

    def listen(self, name: str, hear: Hear) -> OpenPort:
        """Open an input with a clock of its own."""
        client = self._client("piano")
        clock = DriverClock()

        def take(event: tuple[list[int], float], _: object) -> None:
            arrived = time.monotonic_ns()
            data, delta = event
            hear(bytes(data), clock.time_of(delta, arrived))

        try:
            # Nothing is left for the driver to ignore: some drivers drop an ignored message's
            # time with it, and the clock would fall behind.
            client.ignore_types(sysex=False, timing=False, active_sense=False)
            client.set_callback(take)
            client.open_port(client.get_ports().index(name), name="in")
        except Exception as error:
            client.delete()
            raise OSError(f"{name}: this piano cannot be opened ({error})") from None
        return _RtmidiPort(client)

    def close(self) -> None:
        """Let go of the MIDI system."""
        self._probe.delete()

    def _client(self, purpose: str) -> Any:
        return self._rtmidi.MidiIn(self._api, name=f"{OWN_CLIENT}-{purpose}")


class _RtmidiPort:
    def __init__(self, client: Any) -> None:
        self._client = client

    def close(self) -> None:
        self._client.cancel_callback()
        self._client.close_port()
        self._client.delete()


class MidoBackend:
    """Any other backend of mido's; keys are timed when they arrive."""

    clock: Clock = "arrival"

    def __init__(self, backend: Any) -> None:
        """Use a loaded backend of mido's."""
        self._backend = backend

    def names(self) -> list[str]:
        """Give the names of all inputs."""
        return list(self._backend.get_input_names())

    def listen(self, name: str, hear: Hear) -> OpenPort:
        """Open an input and time its messages as they arrive."""
        port: OpenPort = self._backend.open_input(
            name, callback=lambda message: hear(message.bin(), time.monotonic_ns())
        )
        return port

    def close(self) -> None:
        """Nothing is held open."""
