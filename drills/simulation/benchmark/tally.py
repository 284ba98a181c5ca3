"""Statistics of paired courses: restricted means, medians, and bootstrap intervals."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random
from statistics import fmean, median

from drills.simulation.benchmark.course import Course

CAP = 1500
"""Cards that a course that never got all cards secured counts for (restricted mean)."""
RESAMPLES = 2000
LEVEL = 0.95

Statistic = Callable[[Sequence[float]], float]


@dataclass(frozen=True)
class Interval:
    """An estimate with its bootstrap interval (percentile method, Efron 1979)."""

    value: float
    low: float
    high: float

    def __str__(self) -> str:
        """Write as "1.02 (0.95 to 1.10)", with as many decimals as the size asks for."""
        decimals = 2 if abs(self.value) < 10 else 0
        return f"{self.value:.{decimals}f} ({self.low:.{decimals}f} to {self.high:.{decimals}f})"


def cards_needed(courses: Sequence[Course]) -> list[float]:
    """Give the cards until all were truly secured, at most `CAP`."""
    return [float(min(CAP, CAP if course.cards is None else course.cards)) for course in courses]


def estimated(values: Sequence[float], statistic: Statistic = median, seed: int = 0) -> Interval:
    """Give a statistic with its bootstrap interval."""
    return _bootstrap(len(values), lambda rows: statistic([values[row] for row in rows]), seed)


def ratio(ours: Sequence[float], theirs: Sequence[float], seed: int = 0) -> Interval:
    """Give the ratio of two means over the same pupils, with a paired bootstrap interval."""

    def of(rows: Sequence[int]) -> float:
        return fmean(ours[row] for row in rows) / fmean(theirs[row] for row in rows)

    return _bootstrap(len(ours), of, seed)


def false_share(courses: Sequence[Course], last: bool = False) -> float | None:
    """Give the share of cards called secured that were not; None if none was called so.

    Counted over every session's end, or only over the course's end.
    """
    claims = _claims(courses, last)
    called = sum(claim[0] for claim in claims)
    return sum(claim[1] for claim in claims) / called if called else None


def missed_share(courses: Sequence[Course]) -> float | None:
    """Give the share of truly secured cards not called so at the course's end."""
    claims = _claims(courses, last=True)
    secured = sum(claim[2] for claim in claims)
    return sum(claim[3] for claim in claims) / secured if secured else None


def _claims(courses: Sequence[Course], last: bool) -> list[tuple[int, int, int, int]]:
    kept = [course.claims[-1:] if last else course.claims for course in courses]
    return [claim for claims in kept for claim in claims]


def _bootstrap(size: int, statistic: Callable[[Sequence[int]], float], seed: int) -> Interval:
    random = Random(seed)
    rows = range(size)
    drawn = sorted(statistic(random.choices(rows, k=size)) for _ in range(RESAMPLES))
    tail = (1 - LEVEL) / 2
    low = drawn[round(tail * (RESAMPLES - 1))]
    high = drawn[round((1 - tail) * (RESAMPLES - 1))]
    return Interval(statistic(rows), low, high)
