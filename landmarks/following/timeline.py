"""A player's own time: when, at her tempo, a moment of the score is due.

A Kalman filter over two quantities, the time of the latest moment reached and the length of a
quarter note, so that how surely a moment is foretold is known as well as when.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from landmarks.following.parameters import FollowingParameters

# Quarter notes at 600 and at 10 a minute: no music goes outside (common practice, no source).
FASTEST_QUARTER, SLOWEST_QUARTER = 100.0, 6000.0
# One press changes the tempo by no more than this factor.
_LARGEST_STEP = 1.5
# However little is known, a quarter note's length is known within this share of it.
_LEAST_SURE = 0.4
_ROOT_TAU = math.sqrt(math.tau)


class Timeline(NamedTuple):
    """When the moment `onset` (quarter notes) was or is reached, and how fast time passes there.

    `time` in ms, `quarter` the length of a quarter note in ms; `time_variance`, `covariance` and
    `quarter_variance` say how surely both are known. `scatter` is the share of an interval by
    which this player has been early or late.
    """

    onset: float
    time: float
    quarter: float
    time_variance: float
    covariance: float
    quarter_variance: float
    scatter: float

    def moved(self, onset: float, facts: FollowingParameters) -> Timeline:
        """Return the timeline carried forward to a later moment, not yet heard."""
        step = onset - self.onset
        uneven = (self.scatter * self.quarter * step) ** 2
        drift = (facts.tempo_drift * self.quarter) ** 2 * step
        return Timeline(
            onset,
            self.time + self.quarter * step,
            self.quarter,
            self.time_variance
            + 2 * step * self.covariance
            + step * step * self.quarter_variance
            + uneven,
            self.covariance + step * self.quarter_variance,
            self.quarter_variance + drift,
            self.scatter,
        )

    def heard(self, onset: float, late: float, variance: float) -> Timeline:
        """Return the timeline corrected by a press `late` ms after an onset was due.

        `onset` is the timeline's own or earlier; `variance` is that of the press about its
        moment, in square ms.
        """
        step = onset - self.onset
        with_time = self.time_variance + step * self.covariance
        with_quarter = self.covariance + step * self.quarter_variance
        total = with_time + step * with_quarter + variance
        time_gain, quarter_gain = with_time / total, with_quarter / total
        quarter = self.quarter + quarter_gain * late
        return Timeline(
            self.onset,
            self.time + time_gain * late,
            min(
                max(quarter, FASTEST_QUARTER, self.quarter / _LARGEST_STEP),
                SLOWEST_QUARTER,
                self.quarter * _LARGEST_STEP,
            ),
            self.time_variance - time_gain * with_time,
            self.covariance - time_gain * with_quarter,
            self.quarter_variance - quarter_gain * with_quarter,
            self.scatter,
        )

    def widened(self, factor: float) -> Timeline:
        """Return the timeline known less surely: its variances times `factor`, up to a limit."""
        most = (_LEAST_SURE * self.quarter) ** 2
        of_quarter = max(min(factor, most / self.quarter_variance), 1.0)
        return self._replace(
            time_variance=self.time_variance * factor,
            covariance=self.covariance * math.sqrt(factor * of_quarter),
            quarter_variance=self.quarter_variance * of_quarter,
        )

    def resumed(self, onset: float, ms: float, facts: FollowingParameters) -> Timeline:
        """Return the timeline after a stop or a jump: at `onset` it is `ms` now, the tempo kept."""
        return Timeline(
            onset,
            ms,
            self.quarter,
            facts.press_scatter**2,
            0.0,
            min(
                self.quarter_variance + (facts.tempo_drift * self.quarter) ** 2,
                max((_LEAST_SURE * self.quarter) ** 2, self.quarter_variance),
            ),
            self.scatter,
        )

    def accustomed(self, late: float, interval: float, facts: FollowingParameters) -> Timeline:
        """Return the timeline of a player who was `late` ms, or early, in so long an interval."""
        # A normal deviation is 1.25 times as wide as the mean distance from its middle.
        share = 1.25 * min(abs(late) / max(interval, 4 * facts.press_scatter), 1.0)
        kept = self.scatter + (share - self.scatter) / facts.scatter_memory
        return self._replace(scatter=max(kept, facts.least_scatter))

    def variance_at(self, onset: float) -> float:
        """Return how surely an earlier moment, or its own, is known, in square ms."""
        step = onset - self.onset
        return self.time_variance + 2 * step * self.covariance + step * step * self.quarter_variance


def begin_timeline(onset: float, ms: float, facts: FollowingParameters) -> Timeline:
    """Return the timeline of a player of whom one press is heard, at `onset`."""
    return Timeline(
        onset,
        ms,
        facts.first_quarter,
        facts.press_scatter**2,
        0.0,
        (facts.first_quarter_scatter * facts.first_quarter) ** 2,
        facts.interval_scatter,
    )


def normal_density(distance: float, variance: float) -> float:
    """Return the normal density `distance` from its middle, per ms.

    >>> round(normal_density(0.0, 1.0), 4)
    0.3989
    """
    return math.exp(-distance * distance / (2 * variance)) / (_ROOT_TAU * math.sqrt(variance))


def wait_density(wait: float, middle: float) -> float:
    """Return the density of a wait that has no upper end, half of such waits under `middle`.

    >>> wait_density(0.0, 500.0) / wait_density(500.0, 500.0)
    4.0
    """
    return middle / (wait + middle) ** 2 if wait >= 0 else 0.0


def move_density(wait: float, middle: float) -> float:
    """Return the density of the wait in which a hand finds its way to another place.

    It has no upper end, and is small for waits far under `middle`, in which nobody gets there.

    >>> move_density(50.0, 500.0) < move_density(500.0, 500.0) / 4
    True
    """
    return 3 * middle * wait * wait / (wait + middle) ** 4
