"""How quick a pupil must be to count as fluent, as the teacher sets it."""

from __future__ import annotations

from dataclasses import dataclass

from drills.learning import parameters


@dataclass(frozen=True)
class Fluency:
    """Fluent time is `factor` times the pupil's key-finding time, and at most `cap` seconds."""

    factor: float = parameters.USUAL.fluent_factor
    cap: float = parameters.USUAL.fluent_cap

    def seconds(self, key_finding: float | None) -> float:
        """Return the fluent time for a key-finding time in seconds, None if it is not known.

        >>> Fluency().seconds(1.2)
        3.0
        """
        finding = parameters.USUAL.key_seconds if key_finding is None else key_finding
        return min(self.cap, self.factor * finding)


USUAL = Fluency()
