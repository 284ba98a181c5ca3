"""How well hesitations are found: planted in lines that are played as unevenly as people do.

    python -m tests.bench.hesitations [LINES]

A line is played at a tempo of its own, which rises or falls by up to a quarter, each gap off by a
normal share of its length (`uneven`). In one line nothing is planted; in one a single hesitation,
so many beats long; in one a hesitation of two beats before every fourth note, at random.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Mapping, Sequence
from fractions import Fraction
from random import Random
from statistics import median

from landmarks.hesitation import Hesitation, MomentPlayed, find_hesitations

VALUES = (Fraction(1, 2), Fraction(1), Fraction(1), Fraction(3, 2), Fraction(2))
BEATS = (0.5, 1.0, 2.0, 4.0)
NOTES = (9, 17, 33)
UNEVEN = (0.05, 0.1, 0.2)
TEMPI = (0.4, 0.8, 1.6)
"""Seconds a beat."""


def played(
    lengths: Sequence[Fraction],
    beat: float,
    uneven: float,
    beyond: Mapping[int, float],
    random: Random,
) -> list[MomentPlayed]:
    """Play a line; `beyond` are beats by the number of the note that comes late."""
    drift = random.uniform(-0.25, 0.25)
    moments, onset, ms = [MomentPlayed(Fraction(0), 0.0, 0.0, False)], Fraction(0), 0.0
    for number, length in enumerate(lengths, 1):
        pace = 1 + drift * number / len(lengths)
        ms += 1000 * beat * pace * float(length) * math.exp(random.gauss(0, uneven))
        ms += 1000 * beat * beyond.get(number, 0.0)
        onset += length
        moments.append(MomentPlayed(onset, ms, ms, True))
    return moments


def row(notes: int, uneven: float, beat: float, lines: int, random: Random) -> str:
    """Return what is found in lines of so many notes, as a row of the table."""
    invented = 0
    found: dict[float, int] = dict.fromkeys(BEATS, 0)
    errors, held, many, many_found, others, others_found = [], 0, 0, 0, 0, 0
    for _line in range(lines):
        lengths = [random.choice(VALUES) for _ in range(notes - 1)]
        told = find_hesitations(played(lengths, beat, uneven, {}, random))
        invented += any(_certain(each) for each in told)
        for beats in BEATS:
            late = random.randrange(1, notes)
            each = find_hesitations(played(lengths, beat, uneven, {late: beats}, random))[late]
            assert each is not None
            found[beats] += each.is_certain
            errors.append(abs(each.ms - 1000 * beats * beat))
            held += each.low <= 1000 * beats * beat <= each.high
        planted = {number: 2.0 for number in range(1, notes) if random.random() < 0.25}
        for number, hesitation in enumerate(
            find_hesitations(played(lengths, beat, uneven, planted, random))
        ):
            many += number in planted
            many_found += number in planted and _certain(hesitation)
            others += number not in planted
            others_found += number not in planted and _certain(hesitation)
    shares = " ".join(f"{found[beats] / lines:6.2f}" for beats in BEATS)
    return (
        f"{notes:5} {uneven:7.2f} {beat:5.1f} {invented / lines:9.3f}  {shares} "
        f"{median(errors) / 1000 / beat:7.2f} {held / len(errors):7.3f} "
        f"{many_found / many:7.2f} {others_found / others:8.4f}"
    )


def _certain(each: Hesitation | None) -> bool:
    return each is not None and each.is_certain


def main() -> None:
    """Print the table."""
    lines = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    print(" " * 32 + "found of one so many beats long   error interval   every fourth")
    beats = " ".join(f"{each:6}" for each in BEATS)
    print(f"notes  uneven  beat  invented  {beats}   beats   holds   found  invented")
    for notes in NOTES:
        for uneven in UNEVEN:
            for beat in TEMPI:
                print(row(notes, uneven, beat, lines, Random(f"{notes} {uneven} {beat}")))


if __name__ == "__main__":
    main()
