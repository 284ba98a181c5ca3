"""The driver's clock: when a message really came, from the time since the one before.

The driver stamps messages before the interpreter is woken, so that the distances between its
messages are true even while a frame is being drawn; what it does not tell is where its clock
lies on the program's. The message that arrived with the least delay tells that best.
"""

from __future__ import annotations

CREEP = 1e-4
"""How fast the two clocks may drift apart: 100 parts in a million, twice what the crystals of
cheap quartz clocks are specified for (common practice, no source)."""
WORST_DELAY_NS = 250_000_000
"""A message later than this was not delayed: the driver's clock jumped, and is set anew."""


class DriverClock:
    """Places the driver's messages on the monotonic clock."""

    def __init__(self) -> None:
        """Begin unset: the first message sets the clock."""
        self._stream = 0.0
        self._offset: float | None = None
        self._last_arrival = 0
        self._last_given = 0

    def time_of(self, delta: float, arrived: int) -> int:
        """Give when a message came, in monotonic ns.

        `delta` is the driver's time since the message before, in seconds; `arrived` is when the
        program took the message, in monotonic ns. The result never lies after `arrived` and
        never before the message that came earlier.
        """
        self._stream += max(0.0, delta) * 1e9
        anchor = arrived - self._stream
        if self._offset is None:
            self._offset = anchor
        else:
            self._offset += CREEP * max(0, arrived - self._last_arrival)
            if anchor < self._offset or anchor - self._offset > WORST_DELAY_NS:
                self._offset = anchor
        self._last_arrival = arrived
        time = min(arrived, round(self._offset + self._stream))
        self._last_given = max(time, min(self._last_given, arrived))
        return self._last_given
