"""The three things that are listened for: each takes in presses, and says when enough was played.

Pure: times are milliseconds; what is to be sounded and when it is over is told, not done.
"""

from __future__ import annotations

import random
from abc import ABC, abstractmethod
from dataclasses import dataclass
from itertools import pairwise

from drills.learning.prior_knowledge.finding import (
    Finding,
    Item,
    direction_finding,
    echo_finding,
    pulse_finding,
)
from drills.sessions.key_group import Press
from drills.sessions.listening.view import Stage
from landmarks.echo import FEWEST_NOTES, hear_echo
from landmarks.pulse import hear_pulse

BEATS = 8
BEAT_MS = 650.0
"""Of the program's own beats: within the 500 to 900 ms at which children's tapping is studied."""
GOING_ON = 17
"""Taps that are waited for after the last beat: 16 intervals, some ten seconds."""
LOST_BEATS = 4
"""After so many beats without a tap the pupil has stopped."""
SILENCE_MS = 1_500.0
"""A rhythm is over after it, or after twice its longest note. Common practice, no source."""
BEFORE_SOUND_MS = 700.0
BETWEEN_TONES_MS = 800.0
DISTANCES = (19, 12, 0, 7, 4, 2)
"""Semitones between the two tones, from far apart to a step, and once the same."""
BEAT_KEY = 72
"""The tone of the program's beats."""
_LOWEST_TONE, _HIGHEST_TONE = 53, 84
"""Within a child's own singing and a step beyond. Common practice, no source."""


@dataclass(frozen=True)
class Sound:
    """A key to be sounded at `t`."""

    t: float
    key: int


class Part(ABC):
    """One item being played: `stage` says how far it is."""

    item: Item
    wanted = 0

    def __init__(self) -> None:
        """Begin, nothing played yet."""
        self.stage = Stage.READY
        self.played = 0

    @abstractmethod
    def sound_it(self, t: float) -> list[Sound]:
        """Return what the program is to sound when it is asked for at `t`; nothing if not now."""

    @abstractmethod
    def press(self, press: Press) -> None:
        """Take in a key of teacher or pupil."""

    @property
    @abstractmethod
    def ends(self) -> float | None:
        """When what is being played is over if nothing more is played."""

    @abstractmethod
    def end(self, t: float) -> list[Sound]:
        """Go on to the next stage at `t`; return what is to be sounded then."""

    @abstractmethod
    def finding(self) -> Finding:
        """Return what was heard."""


class PulsePart(Part):
    """Eight beats by the program, or by the teacher on one key; then the pupil goes on."""

    item = Item.PULSE
    wanted = GOING_ON

    def __init__(self) -> None:
        """Wait for the first beat."""
        super().__init__()
        self._beats: list[float] = []
        self._taps: list[float] = []
        self._teachers_key: int | None = None

    def sound_it(self, t: float) -> list[Sound]:
        """Return the eight beats."""
        if self.stage is not Stage.READY:
            return []
        self.stage = Stage.GIVEN
        self._beats = [t + BEFORE_SOUND_MS + BEAT_MS * number for number in range(BEATS)]
        return [Sound(at, BEAT_KEY) for at in self._beats]

    def press(self, press: Press) -> None:
        """Take the first key and its repetitions as the teacher's beats, all else as taps."""
        if self.stage is Stage.READY:
            self.stage, self._teachers_key = Stage.GIVEN, press.key
        is_beat = press.key == self._teachers_key and len(self._beats) < BEATS
        (self._beats if is_beat else self._taps).append(press.t)
        if len(self._beats) == BEATS and press.t > self._beats[-1] + self._beat / 2:
            self.stage = Stage.ANSWER
            self.played += 1

    @property
    def _beat(self) -> float:
        if len(self._beats) < 2:
            return BEAT_MS
        return (self._beats[-1] - self._beats[0]) / (len(self._beats) - 1)

    @property
    def ends(self) -> float | None:
        """Some beats after the last tap, or at once after the last that is waited for."""
        if self.stage is Stage.READY:
            return None
        latest = max([*self._beats, *self._taps])
        return latest if self.played >= GOING_ON else latest + LOST_BEATS * self._beat

    def end(self, t: float) -> list[Sound]:
        """Tell what was heard, or wait anew for beats that were broken off."""
        if len(self._beats) == BEATS:
            self.stage = Stage.HEARD
        else:
            self.stage, self._beats, self._taps = Stage.READY, [], []
        return []

    def finding(self) -> Finding:
        """Return what was heard."""
        return pulse_finding(hear_pulse(self._beats, self._taps))


class EchoPart(Part):
    """The teacher plays a rhythm; after a silence the pupil plays it back."""

    item = Item.ECHO

    def __init__(self) -> None:
        """Wait for the teacher's rhythm."""
        super().__init__()
        self._rhythm: list[float] = []
        self._playing: list[float] = []

    def sound_it(self, t: float) -> list[Sound]:
        """Return nothing: the teacher gives the rhythm."""
        return []

    def press(self, press: Press) -> None:
        """Take in the teacher's key, then the pupil's."""
        if self.stage in (Stage.READY, Stage.GIVEN):
            self.stage = Stage.GIVEN
            self._rhythm.append(press.t)
        else:
            self._playing.append(press.t)
            self.played += 1

    @property
    def ends(self) -> float | None:
        """After a silence, that of the pupil once she has begun."""
        now = self._rhythm if self.stage is Stage.GIVEN else self._playing
        if not now:
            return None
        longest = max((later - earlier for earlier, later in pairwise(self._rhythm)), default=0.0)
        return now[-1] + max(SILENCE_MS, 2 * longest)

    def end(self, t: float) -> list[Sound]:
        """Hand over to the pupil, or tell what was heard."""
        if self.stage is Stage.ANSWER:
            self.stage = Stage.HEARD
        elif len(self._rhythm) < FEWEST_NOTES:
            self.stage, self._rhythm = Stage.READY, []
        else:
            self.stage = Stage.ANSWER
        return []

    def finding(self) -> Finding:
        """Return what was heard."""
        return echo_finding(hear_echo(self._rhythm, self._playing))


class DirectionPart(Part):
    """Two tones; the pupil moves the same way on any keys; then the next two, nearer together."""

    item = Item.DIRECTION
    wanted = len(DISTANCES)

    def __init__(self, seed: int) -> None:
        """Choose the tones."""
        super().__init__()
        chance = random.Random(seed)
        self._pairs = [_pair(distance * chance.choice((1, -1)), chance) for distance in DISTANCES]
        self._keys: list[int] = []
        self._answers: list[tuple[int, bool]] = []
        self._ends: float | None = None

    def sound_it(self, t: float) -> list[Sound]:
        """Return the two tones, once more if they have sounded already."""
        if self.stage is Stage.HEARD:
            return []
        self.stage, self._keys = Stage.GIVEN, []
        first = t + BEFORE_SOUND_MS
        self._ends = first + BETWEEN_TONES_MS
        tones = zip((first, self._ends), self._pairs[len(self._answers)], strict=True)
        return [Sound(at, key) for at, key in tones]

    def press(self, press: Press) -> None:
        """Take in two keys as an answer, once the tones have sounded."""
        if self.stage is not Stage.ANSWER or len(self._keys) == 2:
            return
        self._keys.append(press.key)
        if len(self._keys) == 2:
            low, high = self._pairs[len(self._answers)]
            distance, moved = high - low, self._keys[1] - self._keys[0]
            self._answers.append((distance, _sign(distance) == _sign(moved)))
            self.played += 1
            self._ends = press.t

    @property
    def ends(self) -> float | None:
        """With the second tone, and with the second key."""
        return self._ends

    def end(self, t: float) -> list[Sound]:
        """Wait for the answer, sound the next two, or tell what was heard."""
        self._ends = None
        if self.stage is Stage.GIVEN:
            self.stage = Stage.ANSWER
            return []
        if len(self._answers) < len(self._pairs):
            return self.sound_it(t)
        self.stage = Stage.HEARD
        return []

    def finding(self) -> Finding:
        """Return what was heard."""
        return direction_finding(self._answers)


def _pair(distance: int, chance: random.Random) -> tuple[int, int]:
    lowest = max(_LOWEST_TONE, _LOWEST_TONE - distance)
    highest = min(_HIGHEST_TONE, _HIGHEST_TONE - distance)
    first = chance.randint(lowest, highest)
    return first, first + distance


def _sign(distance: int) -> int:
    return (distance > 0) - (distance < 0)
