"""A pupil's own key-finding time, and how surely a time is therefore fluent."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import deque
from collections.abc import Iterable
from math import erf, exp, inf, log, sqrt
from statistics import median

from drills.learning.fluency import Fluency
from drills.learning.parameters import Parameters


class Hand:
    """How long a pupil needs for a key that she knows, and what is fluent for her.

    The logarithm of key-finding time is believed normal. Keys shown on the strip measure it; as
    long as there was none, the quickest right answers on notes stand in for them, for they take
    hardly longer, and what they tell is less sure.
    """

    def __init__(self, fluency: Fluency, parameters: Parameters) -> None:
        """Start from the prior."""
        self._fluency = fluency
        self._parameters = parameters
        self._key_times: deque[float] = deque(maxlen=parameters.kept_times)
        self._right_times: deque[float] = deque(maxlen=parameters.kept_times)
        self._ordered: list[float] = []
        """The right times from the quickest on."""
        self._believe()

    @property
    def measured(self) -> bool:
        """Whether a shown key has been timed."""
        return bool(self._key_times)

    def saw_key(self, seconds: float) -> None:
        """Take in the time in which a shown key was pressed."""
        if _can_be(seconds):
            self._key_times.append(seconds)
            self._believe()

    def saw_right(self, seconds: float) -> None:
        """Take in the time of a right answer on a note."""
        if _can_be(seconds) and not self.measured:
            self._keep_right(seconds)
            self._believe()

    def fluent_chance(self, seconds: float) -> float:
        """Return how probably (0 to 1) a note that took so many seconds is read in fluent time.

        It is the less sure the less is known of the pupil's fluent time.
        """
        if not seconds < inf:
            return 0.0
        if seconds <= 0:
            return 1.0
        distance = log(self.fluent_seconds / seconds) / self.spread
        return 0.5 * (1 + erf(distance / sqrt(2)))

    def times(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Return the kept times of shown keys and of right answers, oldest first, in seconds."""
        return tuple(self._key_times), tuple(self._right_times)

    def restore(self, key_times: Iterable[float], right_times: Iterable[float]) -> None:
        """Begin again from kept times."""
        self._key_times.extend(key_times)
        for seconds in right_times:
            self._keep_right(seconds)
        self._believe()

    def _keep_right(self, seconds: float) -> None:
        if len(self._right_times) == self._right_times.maxlen:
            del self._ordered[bisect_left(self._ordered, self._right_times[0])]
        self._right_times.append(seconds)
        insort(self._ordered, seconds)

    def _believe(self) -> None:
        numbers = self._parameters
        precision = numbers.key_spread**-2
        centre = precision * log(numbers.key_seconds)
        if self.measured:
            weight = len(self._key_times) * numbers.key_noise**-2
            centre += weight * log(median(self._key_times))
            precision += weight
        elif len(self._right_times) >= numbers.quick_answers:
            weight = numbers.quick_spread**-2
            centre += weight * log(self._ordered[int(numbers.quick_share * len(self._ordered))])
            precision += weight
        self.key_seconds = exp(centre / precision)
        """The median time to press a key that is shown, in seconds, as believed now."""
        self.spread = precision**-0.5
        """The standard deviation of its logarithm."""
        self.fluent_seconds = self._fluency.seconds(self.key_seconds)
        """The pupil's own fluent time, in seconds."""


def _can_be(seconds: float) -> bool:
    return 0 < seconds < inf
