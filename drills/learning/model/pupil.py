"""What is believed about the pupil as a whole: hand, pace, scatter, slips, attention.

Each is a prior worth some answers, blended with what the answers show (expectation step by
expectation step, as in on-line EM), so that no single answer moves it far.
"""

from __future__ import annotations

from bisect import insort
from math import exp, log, sqrt

from drills.learning import facts
from drills.learning.fluency import Fluency
from drills.learning.model import belief

KEY_NOISE = 0.3
"""Standard deviation of the logarithm of single key-finding times, as for other answers."""
QUICK_SHARE = 0.1
"""Of right answers on notes this share is taken for hardly slower than finding a shown key."""
QUICK_SPREAD = 0.2
"""Standard deviation of the logarithm of key-finding time around that quick time (prior)."""
QUICK_FROM = 12
KEPT_TIMES = 400
SPREAD_LIMITS = (0.2, 0.7)
MOST_WANDER, MOST_BRUSH = 0.3, 0.15
"""Beyond these shares an answer is the pupil's own, however odd: a pupil who mostly plays the
next key is guessing, not brushing (prior)."""
ONE_SIDED = 2.0
"""A finger misses its key to either side, so brushes to one side count for at most so many times
those to the other: a pupil who always plays the key above is misreading (prior, revised by hand
after looking at simulated pupils)."""
GAIN_LIMITS = (0.0, 1.2)
KEPT = 0.995
"""How much of what is known of the pupil's slips one more answer leaves: about the last two hundred
answers count (prior)."""
SHARED_SLIPS = 0.9
"""How far the slips on one card are like those on the others (prior)."""
FORGOTTEN = tuple(share ** (1 - KEPT) for share in belief.SLIPS)
UNSHARED = tuple((1 - SHARED_SLIPS) * share for share in belief.SLIPS)


class Pupil:
    """The numbers that hold for all cards of one pupil."""

    def __init__(self, fluency: Fluency) -> None:
        """Start from the priors."""
        self._fluency = fluency
        self._key_sum = self._key_weight = 0.0
        self._right_times: list[float] = []
        self._timed = facts.TIME_SPREAD_WEIGHT.value
        self._squares = facts.TIME_SPREAD.value**2 * self._timed
        self._answers = facts.CONTAMINATION_WEIGHT.value
        self._wandered = facts.WANDER.value * self._answers
        self._brushed = [facts.BRUSH.value * self._answers / 2] * 2
        self._gain = facts.WARM_GAIN.value
        self._gain_variance = facts.WARM_GAIN_SPREAD.value**2
        self._met = facts.KNOWN_AT_FIRST_WEIGHT.value
        self._known = facts.KNOWN_AT_FIRST.value * self._met
        self._paced = facts.KNOWN_SECONDS_WEIGHT.value
        self._pace_sum = log(facts.KNOWN_SECONDS.value) * self._paced
        self._slips = list(belief.SLIPS)
        self._usually_lost = self._lost = facts.FORGETTING_WEIGHT.value
        self._shown = facts.PROMPT_WEIGHT.value
        self._prompted = facts.PROMPT.value * self._shown
        self._warm_expected = facts.WARM_SLIPS_WEIGHT.value
        self._warm_slipped = facts.WARM_SLIPS.value * self._warm_expected
        self.fluent_seconds = 0.0
        """The pupil's own fluent time."""
        self.spread = facts.TIME_SPREAD.value
        """The standard deviation of the logarithm of times on one card."""
        self.slips: tuple[float, ...] = belief.SLIPS
        """How the pupil slips on known cards: a share for each of the known levels."""
        self._refresh()

    @property
    def wander(self) -> float:
        """The share of answers given while the mind was elsewhere."""
        return min(MOST_WANDER, self._wandered / self._answers)

    @property
    def brush(self) -> float:
        """The share of answers that are a neighbouring key touched by accident."""
        return sum(self._brushes)

    def brush_to(self, above: bool) -> float:
        """Give the share of answers that are a key brushed above the right one, or below it."""
        return self._brushes[above]

    @property
    def _brushes(self) -> tuple[float, float]:
        below, above = self._brushed
        sides = min(below, ONE_SIDED * above), min(above, ONE_SIDED * below)
        scale = min(1 / self._answers, MOST_BRUSH / sum(sides))
        return scale * sides[0], scale * sides[1]

    @property
    def warm_gain(self) -> float:
        """How much quicker, in log time, a card is a minute after it was seen than a day after."""
        low, high = GAIN_LIMITS
        return min(high, max(low, self._gain))

    @property
    def prompt(self) -> float:
        """The chance that an unknown card is right at once after its answer was shown."""
        return min(0.95, self._prompted / self._shown)

    @property
    def prompting(self) -> float:
        """That chance, of what it usually is."""
        return self.prompt / facts.PROMPT.value

    @property
    def warm_slips(self) -> float:
        """The share of slips, of those when cold, that are left a minute after a card was seen."""
        return min(1.0, self._warm_slipped / self._warm_expected)

    @property
    def forgetting(self) -> float:
        """How much this pupil loses over rests, of what pupils usually do."""
        return self._lost / self._usually_lost

    @property
    def known_at_first(self) -> float:
        """The share of cards that the pupil knows before meeting them here."""
        return self._known / self._met

    @property
    def usual_pace(self) -> float:
        """The logarithm of the pupil's usual time on known cards."""
        return self._pace_sum / self._paced

    @property
    def key_measured(self) -> bool:
        """Whether a shown key has been timed."""
        return self._key_weight > 0

    @property
    def key_seconds(self) -> float:
        """The median time to press a key that is shown."""
        precision = facts.KEY_SPREAD.value**-2
        centre = (log(facts.KEY_SECONDS.value) * precision + self._key_sum) / (
            precision + self._key_weight
        )
        if not self.key_measured and len(self._right_times) >= QUICK_FROM:
            quick = log(self._right_times[int(QUICK_SHARE * len(self._right_times))])
            weight = QUICK_SPREAD**-2
            centre = (centre * precision + quick * weight) / (precision + weight)
        return exp(centre)

    def saw_key_time(self, seconds: float) -> None:
        """Take in the time in which a shown key was pressed; a far slower one hardly counts."""
        distance = (log(seconds) - log(self.key_seconds)) / KEY_NOISE
        trust = 1 / (1 + (distance / 3) ** 4)
        precision = trust / KEY_NOISE**2
        self._key_sum += precision * log(seconds)
        self._key_weight += precision
        self._refresh()

    def saw_right_time(self, seconds: float) -> None:
        """Take in the time of a right answer on a note."""
        if not self.key_measured and len(self._right_times) < KEPT_TIMES:
            insort(self._right_times, seconds)
            self._refresh()

    def saw_attention(self, wandered: float, brushed: float, above: bool) -> None:
        """Take in the probabilities that one answer was wandered over, or brushed.

        `above` tells whether the played key lies above the right one.
        """
        self._answers += 1
        self._wandered += wandered
        self._brushed[above] += brushed

    def saw_known_time(self, log_seconds: float, trust: float) -> None:
        """Take in a cold log time on a card that was known with probability `trust`."""
        self._paced += trust
        self._pace_sum += trust * log_seconds

    def saw_scatter(self, square: float, trust: float) -> None:
        """Take in the squared deviation of a log time from what was expected of its card.

        The variance of that expectation is to be taken off before.
        """
        self._squares += trust * square
        self._timed += trust
        low, high = SPREAD_LIMITS
        self.spread = sqrt(min(high**2, max(low**2, self._squares / self._timed)))

    def saw_prompting(self, prompted: float, shown: float) -> None:
        """Take in how probably a right answer only repeated what had just been shown.

        `shown` says how far the answer could tell of that: unknown, and shown a moment ago.
        """
        self._prompted += prompted
        self._shown += shown

    def saw_warm_slip(self, slipped: float, expected: float, known: float) -> None:
        """Compare a warm answer on a known card with the slip that was to be expected cold."""
        self._warm_slipped += known * slipped
        self._warm_expected += known * expected

    def saw_slip_or_not(self, right: bool, known: float, left: float) -> None:
        """Learn how the pupil slips from one answer on a card known with probability `known`.

        `left` is the share of slips that the card's warmth left.
        """
        misses = belief.MISSES
        likely = [1 - left * miss for miss in misses] if right else misses
        odds = known / sum(map(float.__mul__, self._slips, likely))
        other = 1 - known
        weights = [
            (share * (odds * chance + other)) ** KEPT * first
            for share, chance, first in zip(self._slips, likely, FORGOTTEN, strict=True)
        ]
        scale = 1 / sum(weights)
        self._slips = [weight * scale for weight in weights]
        own = SHARED_SLIPS * scale
        self.slips = tuple(
            [own * weight + first for weight, first in zip(weights, UNSHARED, strict=True)]
        )

    def saw_cold_time(self, surprise: float, variance: float, warmth: float) -> None:
        """Learn the warm gain from a cold log time that came `surprise` above expectation.

        `warmth` says how warm the answers were that the expectation came from (0 to 1): a
        one-dimensional Kalman step.
        """
        step = self._gain_variance * warmth / (warmth**2 * self._gain_variance + variance)
        self._gain += step * surprise
        self._gain_variance *= 1 - step * warmth

    def saw_rest(self, lost: float, usually: float) -> None:
        """Compare how probably a rest lost a card with what rests usually lose.

        The posterior mean of a gamma-distributed rate of Poisson losses.
        """
        self._lost += lost
        self._usually_lost += usually

    def met_first(self, known: float) -> None:
        """Take in how probably a card was known at its first meeting."""
        self._met += 1
        self._known += known

    def _refresh(self) -> None:
        self.fluent_seconds = self._fluency.seconds(self.key_seconds)
