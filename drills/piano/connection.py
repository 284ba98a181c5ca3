"""One open port, from the bytes its driver delivers to keys pressed and released."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence

from drills.piano.driver import Driver
from drills.piano.driver_clock import DriverClock
from drills.piano.layers import HeldKeys
from drills.piano.messages import MessageReader, Note

ACTIVE_SENSING = 0xFE
# A piano that sends active sensing sends something every 300 ms at least (MIDI 1.0 Detailed
# Specification); a pause of this many ns is no mere delay, even in a program that was
# busy meanwhile.
LONGEST_PAUSE = 3_000_000_000


class Connection:
    """Collects what arrives on one port, in another thread, and hands it out on request."""

    def __init__(self, driver: Driver, name: str, wake: Callable[[], None]) -> None:
        """Open the port `name`; OSError if it cannot be opened. `wake` is called for each note."""
        self.name = name
        self.clock = driver.clock
        self._wake = wake
        self._arrived: deque[tuple[Sequence[int], float | None, int]] = deque()
        self._reader = MessageReader()
        self._clock = DriverClock()
        self._keys = HeldKeys()
        self._latest = 0
        self._sensing_heard: int | None = None
        self._port = driver.open(name, self._receive)

    def notes(self) -> list[Note]:
        """Give the notes that have arrived since the last call, in time order."""
        notes: list[Note] = []
        while self._arrived:
            data, delta, arrival = self._arrived.popleft()
            for note in self._reader.read(data, self._time(delta, arrival)):
                notes += self._keys.merge(note)
        return notes

    def went_silent(self, now: int) -> bool:
        """Say whether a piano that sent active sensing no longer does.

        So it shows when a device was unplugged and came back between two looks at the names: its
        port is listed as before, but what we opened is dead.
        """
        return self._sensing_heard is not None and now - self._sensing_heard > LONGEST_PAUSE

    def close(self, now: int) -> list[Note]:
        """Close the port; give the notes not handed out yet and let up the keys still held."""
        self._port.close()
        return [*self.notes(), *self._keys.release_all(max(now, self._latest))]

    def _time(self, delta: float | None, arrival: int) -> int:
        time = arrival if delta is None else self._clock.time_of(delta, arrival)
        self._latest = max(self._latest, time)
        return self._latest

    def _receive(self, data: Sequence[int], delta: float | None, arrival: int) -> None:
        self._arrived.append((data, delta, arrival))
        if self._sensing_heard is not None or ACTIVE_SENSING in data:
            self._sensing_heard = arrival
        # Clock and active sensing come many times a second and change nothing on the screen.
        if data and data[0] < 0xA0:
            self._wake()
