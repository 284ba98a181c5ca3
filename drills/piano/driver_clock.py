"""When a message happened, from the times the MIDI driver gives.

The driver hands over each message with the seconds since the one before, measured outside the
interpreter. The sum of these is an even stream time with an unknown starting point. Python's own
arrival time has a known starting point, but is late by however long the interpreter was busy, and
never early. So the smallest difference of the two among recent messages sets the starting point.
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass

SECOND = 1_000_000_000  # ns
# The starting point is judged from the messages of this long, and from at least so many.
WINDOW = 10 * SECOND
WINDOW_MESSAGES = 16
# Two clocks in one computer may drift apart by this much (one part in so many: 100 ppm).
DRIFT = 10_000
# A message that seems to have waited longer than this did not: the stream itself has jumped.
LONGEST_WAIT = SECOND
LONGEST_DELTA = 24 * 3600.0  # seconds


@dataclass(frozen=True, slots=True)
class _Sighting:
    index: int
    arrival: int
    offset: int
    unread: int


class DriverClock:
    """Places one port's messages on Python's monotonic clock.

    With steady clocks a time given is never before the true time, and late by no more than this
    message itself was delivered late. Times never go backwards.
    """

    def __init__(self) -> None:
        """Start before the first message."""
        self._stream = 0
        self._count = 0
        self._arrival: int | None = None
        self._last = 0
        # Smallest first: each sighting kept is smaller than all that came after it but were
        # dropped, so the first is always the smallest of the window.
        self._sightings: deque[_Sighting] = deque()

    @property
    def doubt(self) -> int:
        """By how many ns the latest time given may be too late, at most, with steady clocks.

        The starting point comes from the message that was delivered soonest, so from one that
        was late by no more than any message of the window lay unread.
        """
        return min((sighting.unread for sighting in self._sightings), default=0)

    def time_of(self, delta: float, arrival: int, unread: int) -> int:
        """Return the time (monotonic ns) of the next message.

        `delta` is the driver's seconds since the message before, `arrival` the monotonic ns at
        which Python got it, `unread` for how many ns it may have lain there. A delta that cannot
        be true is replaced by the arrival times.
        """
        self._advance(delta, arrival)
        if self._lateness(arrival) > LONGEST_WAIT:
            self._sightings.clear()
        self._see(arrival, unread)
        self._last = max(self._last, arrival - self._lateness(arrival))
        return self._last

    def _advance(self, delta: float, arrival: int) -> None:
        if self._arrival is not None:
            if math.isfinite(delta) and 0 <= delta <= LONGEST_DELTA:
                self._stream += round(delta * SECOND)
            else:
                self._stream += max(0, arrival - self._arrival)
                self._sightings.clear()
        self._arrival = arrival

    def _offset(self, arrival: int) -> int:
        """Return arrival less stream time, with the drift that may have come about by now."""
        return arrival - self._stream - arrival // DRIFT

    def _lateness(self, arrival: int) -> int:
        if not self._sightings:
            return 0
        return self._offset(arrival) - self._sightings[0].offset

    def _see(self, arrival: int, unread: int) -> None:
        offset = self._offset(arrival)
        while self._sightings and self._sightings[-1].offset >= offset:
            # This message was delivered sooner than that one, so its lateness is no greater.
            unread = min(unread, self._sightings.pop().unread)
        self._sightings.append(_Sighting(self._count, arrival, offset, unread))
        self._count += 1
        while self._is_old(self._sightings[0], arrival):
            self._sightings.popleft()

    def _is_old(self, sighting: _Sighting, arrival: int) -> bool:
        return (
            arrival - sighting.arrival > WINDOW and self._count - sighting.index > WINDOW_MESSAGES
        )
