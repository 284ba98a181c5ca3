"""How quick a pupil must be to count as fluent, as the teacher sets it."""

from __future__ import annotations

from dataclasses import dataclass

from drills.learning import facts


@dataclass(frozen=True)
class Fluency:
    """Fluent time is `factor` times the pupil's key-finding time, and at most `cap` seconds."""

    factor: float = facts.FLUENT_FACTOR.value
    cap: float = facts.FLUENT_CAP.value

    def seconds(self, key_finding: float | None) -> float:
        """Give the fluent time for a key-finding time in seconds, None if it is not known."""
        finding = facts.KEY_SECONDS.value if key_finding is None else key_finding
        return min(self.cap, self.factor * finding)


USUAL = Fluency()
