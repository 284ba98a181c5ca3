"""Simulated tappers of known evenness, by the two-level model of Wing and Kristofferson (1973)."""

from __future__ import annotations

import random

BEATS = 8


def beats_of(beat_ms):
    """Eight beats."""
    return [beat_ms * number for number in range(BEATS)]


def tap_along(beats, spread, chance):
    """Tap with each beat, a little early on the whole, as people do (Aschersleben 2002)."""
    beat = beats[1] - beats[0]
    return [at - 0.05 * beat + chance.gauss(0, spread * beat) for at in beats]


def go_on(beats, count, chance, clock=0.05, delay=0.02, drift=0.0, tempo=1.0, skips=()):
    """Taps after the last beat: `clock` and `delay` are standard deviations in shares of a beat."""
    beat = (beats[1] - beats[0]) * tempo
    at = beats[-1]
    taps = []
    for number in range(1, count + 1):
        at += beat * (1 + drift * (number - (count + 1) / 2) + chance.gauss(0, clock))
        taps.append(at + chance.gauss(0, delay * beat))
    return [tap for number, tap in enumerate(taps) if number not in skips]


def chance_of(seed):
    """A chance of its own for each tapper."""
    return random.Random(seed)
