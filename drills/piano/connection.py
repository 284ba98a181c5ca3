"""One open port, from the bytes its driver delivers to keys pressed and released."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence

from drills.piano.driver import Driver
from drills.piano.driver_clock import DriverClock
from drills.piano.layers import HeldKeys
from drills.piano.messages import MessageReader, Note, NotePressed

ACTIVE_SENSING = 0xFE
# A piano that sends active sensing sends something every 300 ms at least (MIDI 1.0 Detailed
# Specification); a pause of this many ns is no mere delay, even in a program that was
# busy meanwhile.
LONGEST_PAUSE = 3_000_000_000
# After so many ns without any message no answer counts any more, so that nothing is at stake when
# the port is opened anew. It makes a driver forget a System Exclusive message without end, which
# swallows every key after it (measured: RtMidi 5.0 on JACK), and lets up keys that hang.
LONGEST_SILENCE = 30_000_000_000
# A time that may be too late by more than this (ns) is told. It is little beside the third by which
# one pupil's times scatter, and more than a program reads late that gets its turns.
READ_LATE = 20_000_000


class Connection:
    """Collects what arrives on one port, in another thread, and hands it out on request."""

    def __init__(self, driver: Driver, name: str, wake: Callable[[], None]) -> None:
        """Open the port `name`; OSError if it cannot be opened. `wake` is called for each note."""
        self.name = name
        self.clock = driver.clock
        self._wake = wake
        self._arrived: deque[tuple[Sequence[int], float | None, int, int]] = deque()
        self._reader = MessageReader()
        self._clock = DriverClock()
        self._keys = HeldKeys()
        self._latest = 0
        self._sensing_heard: int | None = None
        self._heard: int | None = None
        self._doubt = 0
        self._port = driver.open(name, self._receive)

    def notes(self) -> list[Note]:
        """Return the notes that have arrived since the last call, in time order."""
        notes: list[Note] = []
        while self._arrived:
            data, delta, arrival, unread = self._arrived.popleft()
            time, doubt = self._time(delta, arrival, unread)
            told = [
                note for each in self._reader.read(data, time) for note in self._keys.merge(each)
            ]
            if any(isinstance(note, NotePressed) for note in told):
                self._doubt = max(self._doubt, doubt)
            notes += told
        return notes

    def read_late(self) -> int | None:
        """Return by how many ns times of keys pressed since the last call may be too late.

        None if that is not worth telling.
        """
        doubt, self._doubt = self._doubt, 0
        return doubt if doubt > READ_LATE else None

    def went_silent(self, now: int) -> bool:
        """Say whether the port should be opened anew: what we opened may be dead or blocked.

        A piano that sent active sensing and no longer does was unplugged and came back between two
        looks at the names: its port is listed as before. One that sends none and is silent, from
        the first time this is asked on, may only be resting, or it may be swallowed or gone.
        """
        if self._heard is None:
            self._heard = now
        sensing = self._sensing_heard
        return (
            self._port.failed
            or (sensing is not None and now - sensing > LONGEST_PAUSE)
            or now - self._heard > LONGEST_SILENCE
        )

    def close(self, now: int) -> list[Note]:
        """Close the port; give the notes not handed out yet and let up the keys still held."""
        self._port.close()
        return [*self.notes(), *self._keys.release_all(max(now, self._latest))]

    def _time(self, delta: float | None, arrival: int, unread: int) -> tuple[int, int]:
        """Return when a message came, and by how much that may be too late."""
        time, doubt = arrival, unread
        if delta is not None:
            time = self._clock.time_of(delta, arrival, unread)
            doubt = self._clock.doubt
        self._latest = max(self._latest, time)
        return self._latest, doubt

    def _receive(self, data: Sequence[int], delta: float | None, arrival: int, unread: int) -> None:
        self._arrived.append((data, delta, arrival, unread))
        self._heard = arrival
        if self._sensing_heard is not None or ACTIVE_SENSING in data:
            self._sensing_heard = arrival
        # Clock and active sensing come many times a second and change nothing on the screen.
        if data and data[0] < 0xA0:
            self._wake()
