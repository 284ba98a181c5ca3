"""A soft tone, for the on-screen keyboard, which has no sound of its own, and for listening."""

from __future__ import annotations

import math
from array import array
from functools import cache

import pygame

from landmarks.pitch import frequency

SAMPLE_RATE = 22_050
SECONDS = 0.9
PEAK = 0.25
"""Of full scale: soft, for small ears and headphones."""
_PARTIALS = ((1, 1.0), (2, 0.35), (3, 0.12))


def samples(key: int) -> array[int]:
    """Return a tone of a key's frequency as 16-bit mono samples at `SAMPLE_RATE`, dying away."""
    step = 2 * math.pi * frequency(key) / SAMPLE_RATE
    loudness = PEAK * 32767 / sum(size for _, size in _PARTIALS)
    heard = [part for part in _PARTIALS if part[0] * frequency(key) < SAMPLE_RATE / 2]
    attack, length = int(0.008 * SAMPLE_RATE), int(SECONDS * SAMPLE_RATE)
    tone = array("h", bytes(2 * length))
    for n in range(length):
        swell = min(1.0, n / attack) * math.exp(-4.5 * n / length) * (1 - n / length)
        wave = sum(size * math.sin(partial * step * n) for partial, size in heard)
        tone[n] = int(loudness * swell * wave)
    return tone


class Tones:
    """Plays tones where the machine can sound, and is silent where it cannot."""

    def __init__(self) -> None:
        """Open the loudspeaker when the first tone is asked for."""
        self._tone = cache(lambda key: pygame.mixer.Sound(buffer=samples(key)))
        self._open: bool | None = None

    def prepare(self, key: int) -> None:
        """Make a key's tone ready, so that it sounds at once when it is played."""
        if self._open is None:
            self._open = _open_loudspeaker()
        if self._open:
            self._tone(key)

    def play(self, key: int) -> None:
        """Sound a key."""
        self.prepare(key)
        if self._open:
            self._tone(key).play()


def _open_loudspeaker() -> bool:
    try:
        pygame.mixer.init(SAMPLE_RATE, -16, 1, 512, allowedchanges=0)
    except pygame.error:
        return False
    return True
