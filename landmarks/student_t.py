"""Quantiles of Student's t distribution, which intervals from few observations rest on."""

from __future__ import annotations

import math
from functools import lru_cache

_HALVINGS = 80


def central_share(t: float, degrees: int) -> float:
    """Return the probability that Student's t lies between -t and t.

    By the finite series for whole degrees of freedom (Abramowitz and Stegun 1964, 26.7.3 and
    26.7.4).

    >>> round(central_share(12.706, 1), 4)
    0.95
    """
    angle = math.atan(t / math.sqrt(degrees))
    cosine, sine = math.cos(angle), math.sin(angle)
    odd = degrees % 2
    term = cosine if odd else 1.0
    total = 0.0 if odd and degrees == 1 else term
    for k in range(2 + odd, degrees - 1, 2):
        term *= cosine**2 * (k - 1) / k
        total += term
    return 2 / math.pi * (angle + sine * total) if odd else sine * total


@lru_cache(maxsize=1024)
def student_quantile(central: float, degrees: int) -> float:
    """Return the t within which, on either side of 0, lies the share `central` (0 to below 1).

    >>> round(student_quantile(0.95, 4), 3)
    2.776
    """
    low, high = 0.0, 1.0
    while central_share(high, degrees) < central:
        high *= 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if central_share(middle, degrees) < central else (low, middle)
    return (low + high) / 2
