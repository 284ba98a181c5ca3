"""Which MIDI library hears the piano."""

from __future__ import annotations

from drills.piano.driver import Driver


def find_driver() -> Driver:
    """Give a driver for the backend mido chooses (MIDO_BACKEND counts); NoMidiError if none works.

    python-rtmidi is used directly, because mido drops the times it gives.
    """
    from mido.backends.backend import Backend

    backend = Backend()
    if backend.name == "mido.backends.rtmidi":
        from drills.piano.rtmidi_driver import RtmidiDriver

        return RtmidiDriver(backend.api)
    from drills.piano.mido_driver import MidoDriver

    return MidoDriver(backend)
