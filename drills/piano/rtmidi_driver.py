"""Input ports through python-rtmidi, which gives the driver's time with every message."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any

from drills.piano.driver import ClockName, NoMidiError, OpenPort, Receive
from drills.piano.polling_port import PollingPort
from drills.piano.ports import CLIENT_NAME
from drills.piano.quiet import quiet_libraries
from drills.piano.server_line import ServerLine
from landmarks.translation import _

if TYPE_CHECKING:
    from rtmidi import MidiIn

# Messages held while the program is busy: over a minute of MIDI clock at 120 beats a minute.
QUEUE_LENGTH = 4096


class RtmidiDriver:
    """python-rtmidi on one of the system's MIDI interfaces (ALSA, JACK, Core MIDI and so on)."""

    clock: ClockName = "driver"

    def __init__(self, api: str | None) -> None:
        """Use the interface of that name, as in `UNIX_JACK`, or the first that answers."""
        try:
            import rtmidi
        except ImportError as error:
            raise NoMidiError(
                _("python-rtmidi cannot be loaded ({error}): install it anew.").format(error=error)
            ) from error
        self._rtmidi: Any = rtmidi
        self._api, self._probe, self._line = self._first_that_answers(self._wanted(api))

    def names(self) -> list[str]:
        """Return the names of all input ports now; NoMidiError if the system has gone."""
        if self._line.was_cut():
            raise NoMidiError(_("The MIDI system has ended; it is looked for again."))
        try:
            with quiet_libraries():
                return list(self._probe.get_ports())
        except (OSError, ValueError) as error:
            raise NoMidiError(
                _("The MIDI system no longer answers ({error}).").format(error=error)
            ) from error

    def open(self, name: str, receive: Receive) -> OpenPort:
        """Open the port of that name; OSError if it cannot be opened."""
        # A client made after the server ended would free those that are open.
        if self._line.was_cut():
            raise OSError(_("the port {name} has gone").format(name=name))
        with quiet_libraries():
            client = self._rtmidi.MidiIn(self._api, CLIENT_NAME, QUEUE_LENGTH)
        try:
            # On some interfaces a message that is ignored takes its share of time with it.
            client.ignore_types(sysex=False, timing=False, active_sense=False)
            with quiet_libraries():
                client.open_port(self._number(client, name), "piano")
        except BaseException:
            client.delete()
            raise

        def ask(before: int) -> None:
            while event := client.get_message():
                arrival = time.monotonic_ns()
                receive(event[0], event[1], arrival, arrival - before)

        def close() -> None:
            with quiet_libraries():
                client.delete()

        return PollingPort(ask, close)

    def close(self) -> None:
        """Let go of the client that asks for names."""
        with quiet_libraries():
            self._probe.delete()
        self._line.close()

    def _number(self, client: MidiIn, name: str) -> int:
        names = client.get_ports()
        if name not in names:
            raise OSError(_("the port {name} has gone").format(name=name))
        return int(names.index(name))

    def _wanted(self, api: str | None) -> list[int]:
        compiled = list(self._rtmidi.get_compiled_api())
        if api is None:
            return compiled
        code = getattr(self._rtmidi, f"API_{api}", None)
        wanted = [each for each in compiled if each == code]
        if not wanted:
            raise NoMidiError(
                _("python-rtmidi knows no interface {api}: correct MIDO_BACKEND.").format(api=api)
            )
        return wanted

    def _first_that_answers(self, apis: list[int]) -> tuple[int, MidiIn, ServerLine]:
        for api in apis:
            line = ServerLine()
            try:
                with quiet_libraries():
                    probe = self._rtmidi.MidiIn(api, name=f"{CLIENT_NAME} (names)")
            except OSError:
                continue
            if api == self._rtmidi.API_UNIX_JACK:
                line.watch_new_sockets()
            return api, probe, line
        tried = ", ".join(self._rtmidi.get_api_display_name(api) for api in apis)
        raise NoMidiError(
            _("No MIDI system answers on this computer (tried: {tried}).").format(
                tried=tried or "none"
            )
        )
