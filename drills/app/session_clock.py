"""The clock of a session: the time of day, unmoved by whoever sets the machine's clock."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from drills.storage.recorder import SessionStart


@dataclass(frozen=True)
class SessionClock(SessionStart):
    """When a session started, by the time of day and by the monotonic clock."""

    started: datetime = field(default_factory=lambda: datetime.now().astimezone())
    started_ns: int = field(default_factory=time.monotonic_ns)

    def now(self) -> datetime:
        """Return the time of day, unmoved by anybody who sets the clock during the session."""
        return self.started + timedelta(microseconds=(time.monotonic_ns() - self.started_ns) / 1000)

    def now_ns(self) -> int:
        """Return the monotonic clock, in ns."""
        return time.monotonic_ns()
