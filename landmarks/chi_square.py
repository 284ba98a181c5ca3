"""Quantiles of the chi-squared distribution, which intervals of a spread rest on."""

from __future__ import annotations

import math
from functools import lru_cache

_TERMS = 500
_EXACT = 1e-14
_HALVINGS = 100


def share_below(value: float, degrees: float) -> float:
    """Return the probability that chi-squared with `degrees` of freedom lies below `value`.

    By the series of the incomplete gamma function (Abramowitz and Stegun 1964, 6.5.29 and
    26.4.19).

    >>> round(share_below(3.841, 1), 3)
    0.95
    """
    if value <= 0:
        return 0.0
    half, shape = value / 2, degrees / 2
    term = total = 1 / shape
    for step in range(1, _TERMS):
        term *= half / (shape + step)
        total += term
        if term < total * _EXACT:
            break
    return min(1.0, total * math.exp(shape * math.log(half) - half - math.lgamma(shape)))


@lru_cache(maxsize=1024)
def chi_square_quantile(share: float, degrees: float) -> float:
    """Return the value below which chi-squared lies with the probability `share` (0 to below 1).

    >>> round(chi_square_quantile(0.95, 10), 3)
    18.307
    """
    low, high = 0.0, max(1.0, degrees)
    while share_below(high, degrees) < share:
        high *= 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if share_below(middle, degrees) < share else (low, middle)
    return (low + high) / 2
