"""The statistics of the review: medians, shares and trends that say how sure they are.

Response times are skewed and few, so nothing here assumes a distribution: intervals come from
ranks and from the binomial distribution.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, combinations
from statistics import NormalDist, median

CONFIDENCE = 0.95


@dataclass(frozen=True)
class Estimate:
    """A value with the interval that holds the true one with the stated confidence.

    `low` and `high` are None where the values are too few to carry an interval.
    """

    value: float
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Trend:
    """A change per unit of x (Theil-Sen), its interval, and Kendall's two-sided p."""

    slope: float
    low: float
    high: float
    p: float


def median_of(values: Sequence[float], confidence: float = CONFIDENCE) -> Estimate:
    """Return the median and its interval between two of the values in order of size.

    The interval is the narrowest symmetric one whose coverage is at least `confidence` whatever
    the distribution (Conover 1999, Practical Nonparametric Statistics, section 3.2, from
    memory). At 95% it needs six values.

    Raises:
        ValueError: there is no value.
    """
    if not values:
        raise ValueError("no value has no median")
    ordered = sorted(values)
    rank = _interval_rank(len(ordered), confidence)
    if rank == 0:
        return Estimate(median(ordered), None, None)
    return Estimate(median(ordered), ordered[rank - 1], ordered[-rank])


@cache
def _interval_rank(size: int, confidence: float) -> int:
    """Return the largest rank r for which P(fewer than r of `size` fair coins) <= tail."""
    tail, below, rank = (1 - confidence) / 2, 0.0, 0
    while rank <= size // 2:
        below += math.comb(size, rank) / 2**size
        if below > tail:
            break
        rank += 1
    return rank


def widen(estimate: Estimate, doubt: float) -> Estimate:
    """Return the estimate with its interval, if it has one, wider by `doubt` to either side."""
    if estimate.low is None or estimate.high is None:
        return estimate
    return Estimate(estimate.value, estimate.low - doubt, estimate.high + doubt)


def share_of(successes: int, trials: int, confidence: float = CONFIDENCE) -> Estimate:
    """Return a share with its score interval (Wilson 1927).

    Raises:
        ValueError: there is no trial.
    """
    if trials <= 0:
        raise ValueError("no trial has no share")
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    share, weight = successes / trials, z * z / trials
    centre = (share + weight / 2) / (1 + weight)
    reach = z * math.sqrt(share * (1 - share) / trials + weight / (4 * trials)) / (1 + weight)
    low = 0.0 if successes == 0 else centre - reach
    high = 1.0 if successes == trials else centre + reach
    return Estimate(share, low, high)


def share_difference(first: Estimate, second: Estimate) -> Estimate:
    """Return second minus first, two shares with Wilson intervals (Newcombe 1998, method 10)."""
    value = second.value - first.value
    assert first.low is not None and first.high is not None
    assert second.low is not None and second.high is not None
    below = math.hypot(second.value - second.low, first.high - first.value)
    above = math.hypot(second.high - second.value, first.value - first.low)
    return Estimate(value, value - below, value + above)


def median_difference(
    first: Sequence[float], second: Sequence[float], confidence: float = CONFIDENCE
) -> Estimate:
    """Return the median of `second` minus that of `first`, both not empty.

    Each median's interval leaves out half of what the difference may leave out (Bonferroni), so
    that the coverage is at least `confidence`; at 95% both need seven values.
    """
    each = (1 + confidence) / 2
    a, b = median_of(first, each), median_of(second, each)
    value = b.value - a.value
    if a.low is None or a.high is None or b.low is None or b.high is None:
        return Estimate(value, None, None)
    return Estimate(value, b.low - a.high, b.high - a.low)


def trend_of(
    x: Sequence[float], y: Sequence[float], confidence: float = CONFIDENCE
) -> Trend | None:
    """Return the trend of y over x, or None if there are fewer than three different x.

    The slope is the median of the slopes between all pairs (Theil 1950), its interval that of
    Sen (1968) with Kendall's variance, ties in both counted.
    """
    if len(set(x)) < 3:
        return None
    slopes = _slopes(x, y)
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    spread = math.sqrt(_kendall_variance(len(x), _tie_sizes(x), _tie_sizes(y)))
    lower = max(round((len(slopes) - z * spread) / 2) - 1, 0)
    upper = min(round((len(slopes) + z * spread) / 2), len(slopes) - 1)
    return Trend(median(slopes), slopes[lower], slopes[upper], _p_of(slopes, x, y))


def kendall_p(x: Sequence[float], y: Sequence[float]) -> float:
    """Return the two-sided p of Kendall's rank correlation.

    Exact without ties (Kendall 1938), else by the normal approximation with its variance for
    ties. 1 if x or y is all the same.
    """
    return _p_of(_slopes(x, y), x, y)


def _slopes(x: Sequence[float], y: Sequence[float]) -> list[float]:
    """Return the slopes between all pairs of different x, in order of size."""
    pairs = combinations(zip(x, y, strict=True), 2)
    return sorted([(y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in pairs if x1 != x2])


def _p_of(slopes: Sequence[float], x: Sequence[float], y: Sequence[float]) -> float:
    falling, not_rising = bisect_left(slopes, 0.0), bisect_right(slopes, 0.0)
    score = len(slopes) - not_rising - falling
    ties_x, ties_y = _tie_sizes(x), _tie_sizes(y)
    if not ties_x and not ties_y:
        return _exact_kendall_p(len(x), (len(slopes) - abs(score)) // 2)
    variance = _kendall_variance(len(x), ties_x, ties_y)
    if variance <= 0:
        return 1.0
    return math.erfc(abs(score) / math.sqrt(2 * variance))


def _exact_kendall_p(size: int, fewer: int) -> float:
    """Return the share of orders of `size` values with no more than `fewer` inversions, twice."""
    return min(1.0, 2 * _orders_up_to(size)[fewer] / math.factorial(size))


@cache
def _orders_up_to(size: int) -> list[int]:
    """Return the number of orders of `size` values with no more than 0, 1, 2 ... inversions."""
    counts = [1]
    for length in range(2, size + 1):
        sums = list(accumulate(counts + [0] * (length - 1)))
        counts = [b - a for a, b in zip([0] * length + sums, sums, strict=False)]
    return list(accumulate(counts))


def _kendall_variance(size: int, ties_x: Sequence[int], ties_y: Sequence[int]) -> float:
    """Return the variance of concordant minus discordant pairs (Kendall 1970, section 4.9)."""
    base = size * (size - 1) * (2 * size + 5)
    whole = sum(t * (t - 1) * (2 * t + 5) for t in ties_x)
    whole += sum(t * (t - 1) * (2 * t + 5) for t in ties_y)
    pairs_x, pairs_y = (sum(t * (t - 1) for t in ties) for ties in (ties_x, ties_y))
    triples_x, triples_y = (sum(t * (t - 1) * (t - 2) for t in ties) for ties in (ties_x, ties_y))
    variance = (base - whole) / 18 + pairs_x * pairs_y / (2 * size * (size - 1))
    if size > 2:
        variance += triples_x * triples_y / (9 * size * (size - 1) * (size - 2))
    return variance


def significant(p_values: Sequence[float], false_share: float = 0.05) -> list[bool]:
    """Tell which of several tests hold when at most `false_share` of those told may be chance.

    The step-up rule of Benjamini and Hochberg (1995).
    """
    ordered = sorted(p_values)
    limit = max(
        (p for rank, p in enumerate(ordered, 1) if p <= false_share * rank / len(ordered)),
        default=-1.0,
    )
    return [p <= limit for p in p_values]


def _tie_sizes(values: Sequence[float]) -> list[int]:
    counts: dict[float, int] = {}
    for value in values:
        counts[value] = counts.get(value, 0) + 1
    return [count for count in counts.values() if count > 1]
