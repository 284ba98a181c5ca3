"""How much of a rhythm came back when it was played after another, in whatever tempo.

The two are laid against each other note by note, by dynamic programming (as Needleman and Wunsch
1970 lay sequences): a note may be left out or added, a length may be changed. Lengths are compared
as logarithms of what they are to the rhythm's own, so that a tempo is a sum that all share; the
tempo is the one under which most comes back. Only when keys go down is heard: how long the last
note was held says nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from statistics import NormalDist

SAME_LENGTH = math.log(1.5) / 2
"""Two lengths within this logarithm are one: half the way to the nearest other of notation, 3 to
2 (a dotted note)."""
TOO_FAR = math.log(2) / 2
"""The same where a rhythm's own lengths lie 2 to 1 apart or further, as of a child's rhythm."""
FEWEST_NOTES = 3
"""Fewer notes make no rhythm: one length has nothing to be longer than."""
_LATITUDE = 0.1
"""How far the logarithms of a child's lengths stray, for weighing alone (prior of this program)."""
_CHANGED = 3.2
"""What a changed length costs, and a note left out or added, in half squares of that stray: a
changed length is likelier than a note too many, and both than three strays at once."""
_MISPLACED = 4.3
_MOST_MISPLACED = 3
"""So many notes may be left out or added between two that came back."""
_NEARLY = 1e-9
_FINENESS = 2
"""Decimals of a tempo's logarithm: 1 part in 100 tells no length from another."""


@dataclass(frozen=True)
class Echo:
    """What came back of a rhythm. Numbers count from 0.

    `changed` are lengths of the rhythm by their number, `left_out` its notes, `added` notes of the
    playing. `kept` lengths came back of `lengths`; `in_order` of the `turns` (longer, shorter, the
    same as the one before) came back. `tempo` is the playing's seconds over the rhythm's; `spread`
    is how far the kept lengths stray, as a share.
    """

    lengths: int
    kept: int
    turns: int
    in_order: int
    changed: tuple[int, ...]
    left_out: tuple[int, ...]
    added: tuple[int, ...]
    tempo: float
    spread: float

    @property
    def is_whole(self) -> bool:
        """Whether all of it came back, and nothing else."""
        return not (self.changed or self.left_out or self.added)

    @property
    def share(self) -> tuple[float, float]:
        """Within which shares of lengths would come back on the whole, by 95 in 100."""
        return share_between(self.kept, self.lengths)


def hear_echo(rhythm: Sequence[float], playing: Sequence[float]) -> Echo:
    """Return what came back of a rhythm, both told by when their keys went down (ms, rising).

    Raises:
        ValueError: the rhythm has fewer than `FEWEST_NOTES` notes.
    """
    if len(rhythm) < FEWEST_NOTES:
        raise ValueError(f"a rhythm has {FEWEST_NOTES} notes or more, not {len(rhythm)}")
    lengths = [later - earlier for earlier, later in pairwise(rhythm)]
    if len(playing) < 2:
        left_out = tuple(range(len(playing), len(rhythm)))
        return Echo(len(lengths), 0, len(lengths) - 1, 0, (), left_out, (), 1.0, 0.0)
    near = _near(lengths)
    tempos = sorted({round(each, _FINENESS): each for each in _tempos(rhythm, playing)}.values())
    tried = (_align(tuple(rhythm), tuple(playing), tempo, near) for tempo in tempos)
    _cost, pairs = min(tried, key=lambda each: (round(each[0], 9), each[1]))
    return _told(rhythm, playing, pairs, near)


def share_between(right: int, tried: int, confidence: float = 0.95) -> tuple[float, float]:
    """Return the interval of a share of which `right` of `tried` were seen (Wilson 1927).

    >>> low, high = share_between(5, 10)
    >>> round(low, 3), round(high, 3)
    (0.237, 0.763)
    """
    if tried == 0:
        return 0.0, 1.0
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    share, over = right / tried, z * z / tried
    middle = (share + over / 2) / (1 + over)
    reach = z * math.sqrt(share * (1 - share) / tried + over / (4 * tried)) / (1 + over)
    return max(0.0, middle - reach), min(1.0, middle + reach)


def _near(lengths: Sequence[float]) -> float:
    """Return within which logarithm two lengths are one, where these are a rhythm's own."""
    ordered = sorted(math.log(each) for each in lengths)
    apart = [later - earlier for earlier, later in pairwise(ordered)]
    between = [each for each in apart if each > SAME_LENGTH]
    return min(TOO_FAR, max(SAME_LENGTH, min(between, default=0.0) / 2))


def _tempos(rhythm: Sequence[float], playing: Sequence[float]) -> Iterator[float]:
    """Yield the logarithms of the tempos that one length or two after the other would have."""
    for span in (1, 2):
        own = {math.log(b - a) for a, b in zip(rhythm, rhythm[span:], strict=False)}
        other = {math.log(b - a) for a, b in zip(playing, playing[span:], strict=False)}
        yield from (theirs - ours for ours in own for theirs in other)


Pairs = tuple[tuple[int, int], ...]


def _align(
    rhythm: tuple[float, ...], playing: tuple[float, ...], tempo: float, near: float
) -> tuple[float, Pairs]:
    """Return the least cost of laying a playing against a rhythm, and which notes are the same."""
    dearest = _CHANGED

    def cost_of(i: int, j: int, next_i: int, next_j: int) -> float:
        stray = _log_ratio(rhythm, playing, (i, j), (next_i, next_j)) - tempo
        near_enough = abs(stray) < near
        return min((stray / _LATITUDE) ** 2 / 2, dearest) if near_enough else dearest

    @cache
    def best(i: int, j: int) -> tuple[float, Pairs]:
        """Return the cheapest way on from a note of each that are the same."""
        after_i, after_j = len(rhythm) - 1 - i, len(playing) - 1 - j
        found: tuple[float, Pairs] = (_MISPLACED * (after_i + after_j), ((i, j),))
        for over_i in range(min(after_i, _MOST_MISPLACED + 1)):
            for over_j in range(min(after_j, _MOST_MISPLACED + 1)):
                next_i, next_j = i + 1 + over_i, j + 1 + over_j
                here = cost_of(i, j, next_i, next_j) + _MISPLACED * (over_i + over_j)
                further, pairs = best(next_i, next_j)
                if here + further < found[0] - _NEARLY:
                    found = here + further, ((i, j), *pairs)
        return found

    starts = [(i, j) for i in range(len(rhythm)) for j in range(len(playing)) if not (i and j)]
    every = ((_MISPLACED * (i + j) + best(i, j)[0], best(i, j)[1]) for i, j in starts)
    return min(every, key=lambda each: each[0])


def _log_ratio(
    rhythm: Sequence[float], playing: Sequence[float], here: tuple[int, int], on: tuple[int, int]
) -> float:
    return math.log((playing[on[1]] - playing[here[1]]) / (rhythm[on[0]] - rhythm[here[0]]))


def _told(rhythm: Sequence[float], playing: Sequence[float], pairs: Pairs, near: float) -> Echo:
    steps = list(pairwise(pairs))
    logs = [_log_ratio(rhythm, playing, here, on) for here, on in steps]
    tempo = _densest(logs, near)
    strays = [each - tempo for each in logs]
    whole = [here[0] + 1 == on[0] and here[1] + 1 == on[1] for here, on in steps]
    changed = tuple(
        here[0] for (here, _on), stray in zip(steps, strays, strict=True) if abs(stray) >= near
    )
    kept = {
        here[0]
        for (here, _on), stray, straight in zip(steps, strays, whole, strict=True)
        if straight and abs(stray) < near
    }
    straight_on = {here: on for (here, on), straight in zip(steps, whole, strict=True) if straight}
    own, other = {i for i, _j in pairs}, {j for _i, j in pairs}
    good = [each for each in strays if abs(each) < near]
    return Echo(
        lengths=len(rhythm) - 1,
        kept=len(kept),
        turns=len(rhythm) - 2,
        in_order=sum(_in_order(rhythm, playing, here, straight_on) for here in straight_on),
        changed=changed,
        left_out=tuple(number for number in range(len(rhythm)) if number not in own),
        added=tuple(number for number in range(len(playing)) if number not in other),
        tempo=math.exp(tempo),
        spread=math.sqrt(sum(each * each for each in good) / len(good)) if good else 0.0,
    )


def _densest(logs: Sequence[float], near: float) -> float:
    """Return the tempo that most steps share: the mean of the largest group within `near`."""
    if not logs:
        return 0.0
    groups = ([each for each in logs if abs(each - middle) < near] for middle in logs)
    largest = max(groups, key=lambda group: (len(group), -(max(group) - min(group))))
    return sum(largest) / len(largest)


def _in_order(
    rhythm: Sequence[float],
    playing: Sequence[float],
    here: tuple[int, int],
    straight_on: dict[tuple[int, int], tuple[int, int]],
) -> bool:
    """Return whether a length is to the one before as in the rhythm: longer, shorter, the same."""
    middle = straight_on[here]
    last = straight_on.get(middle)
    if last is None:
        return False
    own, other = (
        _turn(notes[a], notes[b], notes[c])
        for notes, a, b, c in (
            (rhythm, here[0], middle[0], last[0]), (playing, here[1], middle[1], last[1])
        )
    )  # fmt: skip
    return own == other


def _turn(first: float, second: float, third: float) -> int:
    turn = math.log((third - second) / (second - first))
    return 0 if abs(turn) < SAME_LENGTH else 1 if turn > 0 else -1
