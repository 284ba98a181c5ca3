"""Statistics of paired courses: restricted means, medians, and bootstrap intervals."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import exp, log
from random import Random
from statistics import fmean, median

from drills.simulation.benchmark.course import Course
from drills.simulation.benchmark.practice import Claims

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


def cards_needed(courses: Iterable[Course], cap: int) -> list[float]:
    """Return the cards until enough were truly secured, `cap` where they never were."""
    return [float(cap if course.cards is None else course.cards) for course in courses]


def estimated(values: Sequence[float], statistic: Statistic = median, seed: int = 0) -> Interval:
    """Return a statistic with its bootstrap interval."""
    return _bootstrap(len(values), lambda rows: statistic([values[row] for row in rows]), seed)


def ratio(ours: Sequence[float], theirs: Sequence[float], seed: int = 0) -> Interval:
    """Return the ratio of two means over the same pupils, with a paired bootstrap interval."""

    def of(rows: Sequence[int]) -> float:
        return fmean(ours[row] for row in rows) / fmean(theirs[row] for row in rows)

    return _bootstrap(len(ours), of, seed)


def difference(ours: Sequence[float], theirs: Sequence[float], seed: int = 0) -> Interval:
    """Return the mean difference over the same pupils, with a paired bootstrap interval."""
    return estimated([one - other for one, other in zip(ours, theirs, strict=True)], fmean, seed)


def geometric_mean(values: Sequence[float]) -> float:
    """Return the geometric mean of positive values.

    >>> geometric_mean([0.5, 2.0])
    1.0
    """
    return exp(fmean(log(value) for value in values))


def false_share(claims: Iterable[Claims]) -> float | None:
    """Return the share of cards called secured that were not; None if none was called so."""
    counted = list(claims)
    called = sum(claim.called for claim in counted)
    return sum(claim.false for claim in counted) / called if called else None


def unnamed_share(claims: Iterable[Claims]) -> float | None:
    """Return the share of truly secured cards not called so; None if none was secured."""
    counted = list(claims)
    secured = sum(claim.true for claim in counted)
    return sum(claim.unnamed for claim in counted) / secured if secured else None


def _bootstrap(size: int, statistic: Callable[[Sequence[int]], float], seed: int) -> Interval:
    random = Random(seed)
    rows = range(size)
    drawn = sorted(statistic(random.choices(rows, k=size)) for _ in range(RESAMPLES))
    tail = (1 - LEVEL) / 2
    low = drawn[round(tail * (RESAMPLES - 1))]
    high = drawn[round((1 - tail) * (RESAMPLES - 1))]
    return Interval(statistic(rows), low, high)
