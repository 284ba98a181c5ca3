"""Notices that the machine slept, or that the program was stopped.

Python's monotonic clock stops while Linux and macOS sleep and goes on while Windows does, so it is
held against one that counts sleep: CLOCK_BOOTTIME (Linux, clock_gettime(2)), CLOCK_MONOTONIC
(macOS, clock_gettime(3), from memory). The time of day is not asked, since people set it.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

SLEPT_MS = 100.0
"""A clock that counts sleep runs ahead of the monotonic one by less unless the machine slept."""
STOPPED_MS = 3000.0
"""A loop that comes round at least once a second was stopped if it did not for so long."""


def _with_sleep_ns() -> int:
    if sys.platform == "linux":
        return time.clock_gettime_ns(time.CLOCK_BOOTTIME)
    if sys.platform == "darwin":
        return time.clock_gettime_ns(time.CLOCK_MONOTONIC)
    return time.monotonic_ns()


class Standstill:
    """Asked at least once a second, says how long the machine or the program stood still."""

    def __init__(
        self,
        awake_ns: Callable[[], int] = time.monotonic_ns,
        with_sleep_ns: Callable[[], int] = _with_sleep_ns,
    ) -> None:
        """Begin to watch; the clocks give nanoseconds, without and with the time asleep."""
        self._awake_ns = awake_ns
        self._with_sleep_ns = with_sleep_ns
        self._awake, self._with_sleep = awake_ns(), with_sleep_ns()

    def look(self) -> float | None:
        """Return for how many milliseconds all stood still since the last look; None if it did not.

        What is given includes the time for which the loop would have waited anyway.
        """
        awake, with_sleep = self._awake_ns(), self._with_sleep_ns()
        active = (awake - self._awake) / 1e6
        passed = (with_sleep - self._with_sleep) / 1e6
        self._awake, self._with_sleep = awake, with_sleep
        if passed - active > SLEPT_MS or active > STOPPED_MS:
            return max(passed, active)
        return None
