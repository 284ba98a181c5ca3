"""Simulated players of a written score, and a beginner's ways laid over any playing.

Each kind of player rests on another mathematics of time, so that a follower that is right about
one of them only is found out. Nothing here is taken from the follower.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from random import Random

LOWEST, HIGHEST = 21, 108


@dataclass(frozen=True)
class Press:
    """A key pressed at a time in ms; `note` is the index of the score note it plays, or None."""

    key: int
    ms: float
    note: int | None


Playing = list[Press]
Player = Callable[[Sequence, Random], Playing]


def events_of(notes: Sequence) -> list[tuple[float, list[int]]]:
    """Group the notes of a score by onset: onset in quarter notes, indices."""
    order = sorted(range(len(notes)), key=lambda n: notes[n].onset)
    return [
        (float(onset), list(group)) for onset, group in groupby(order, lambda n: notes[n].onset)
    ]


def in_time(presses: Playing) -> Playing:
    """Put presses in the order in which they are heard."""
    return sorted(presses, key=lambda press: press.ms)


def play_evenly(notes: Sequence, random: Random) -> Playing:
    """A metronome: one tempo, nothing else."""
    quarter = 60000 / random.uniform(50, 140)
    return in_time(
        [Press(note.key, float(note.onset) * quarter, n) for n, note in enumerate(notes)]
    )


def play_steadily(notes: Sequence, random: Random) -> Playing:
    """Tempo wanders about its usual pace; chords scatter normally; two slips in 100."""
    usual = 60000 / random.uniform(50, 140)
    hurry = 0.0
    presses: Playing = []
    now, before = 0.0, 0.0
    for onset, members in events_of(notes):
        hurry = 0.98 * hurry + random.gauss(0, 0.03)
        quarter = usual * math.exp(hurry)
        now += (onset - before) * quarter * math.exp(random.gauss(0, 0.05))
        before = onset
        for n in members:
            early = random.uniform(40, 120) if getattr(notes[n], "is_grace", False) else 0.0
            if random.random() > 0.01:
                presses.append(Press(notes[n].key, now - early + random.gauss(0, 12), n))
            if random.random() < 0.01:
                presses.append(
                    Press(_beside(notes[n].key, random), now + random.gauss(0, 40), None)
                )
    return in_time(presses)


def play_with_rubato(notes: Sequence, random: Random) -> Playing:
    """Phrases breathe along a curve; hands drift apart; chords are rolled, long notes trilled."""
    slow = 60000 / random.uniform(45, 160)
    phrase = random.choice((4, 8, 16))
    depth = random.uniform(0.1, 0.35)
    middle = sorted(note.key for note in notes)[len(notes) // 2]
    apart = 0.0
    presses: Playing = []
    now, before = 0.0, 0.0
    for onset, members in events_of(notes):
        place = (onset % phrase) / phrase
        quarter = slow * (1 + depth * math.cos(math.tau * place) + depth * place**6)
        now += (onset - before) * quarter
        before = onset
        # The left hand's lead or lag wanders and is drawn back (an autoregression).
        apart = 0.9 * apart + random.gauss(0, 14)
        rolled = len(members) > 3 and random.random() < 0.15
        for rank, n in enumerate(sorted(members, key=lambda n: notes[n].key)):
            key = notes[n].key
            at = now + (apart if key < middle else -20.0) + random.gauss(0, 8)
            at += rank * random.uniform(35, 60) if rolled else 0.0
            if getattr(notes[n], "is_grace", False):
                at -= random.choice((0.0, 70.0, 110.0))
            presses.append(Press(key, at, n))
            if float(getattr(notes[n], "length", 0)) >= 1 and random.random() < 0.03:
                presses += _trill(key, at, quarter, random)
    return in_time(presses)


def play_by_sight(notes: Sequence, random: Random) -> Playing:
    """No tempo at all: every moment is found in a time of its own, its keys one after the other.

    A wrong key is often put right; a note is left out where finding it takes too long.
    """
    presses: Playing = []
    now = 0.0
    for _onset, members in events_of(notes):
        now += 150 + random.gammavariate(2.0, 350)
        for n in random.sample(members, len(members)):
            now += random.expovariate(1 / 60)
            wrong = random.random() < 0.05
            if wrong:
                presses.append(Press(_beside(notes[n].key, random), now, None))
                now += random.expovariate(1 / 400)
            if random.random() > (0.3 if wrong else 0.02):
                presses.append(Press(notes[n].key, now, n))
    return in_time(presses)


def play_in_fits(notes: Sequence, random: Random) -> Playing:
    """Tempo leaps between a few paces; before a hard spot there is a stop; bars are begun anew.

    Hands fall together or 80 ms apart; after a wrong key the last few moments are played again.
    """
    events = events_of(notes)
    paces = [60000 / random.uniform(35, 150) for _ in range(3)]
    quarter = random.choice(paces)
    presses: Playing = []
    now, here, before = 0.0, 0, 0.0
    while here < len(events):
        onset, members = events[here]
        if random.random() < 0.04:
            quarter = random.choice(paces)
        now += max(onset - before, 0.05) * quarter * random.uniform(0.9, 1.15)
        if random.random() < 0.03:
            now += random.lognormvariate(7.5, 1.0)
        before = onset
        gap = random.choice((0.0, 0.0, 80.0))
        pitches = sorted(members, key=lambda n: notes[n].key)
        strayed = False
        for rank, n in enumerate(pitches):
            at = now + (gap if rank >= len(pitches) / 2 else 0.0) + random.uniform(-15, 15)
            slip = random.random()
            if slip < 0.03:
                presses.append(
                    Press(_clamped(notes[n].key + random.choice((-12, -4, -3, 3, 4, 12))), at, None)
                )
                strayed = True
            elif slip > 0.03 + 0.02:
                presses.append(Press(notes[n].key, at, n))
        if strayed and random.random() < 0.4:
            here = max(0, here - random.randrange(1, 6))
            before = events[here][0] - 1.0
            now += 400.0
        else:
            here += 1
    return in_time(presses)


@dataclass(frozen=True)
class Ways:
    """How often a beginner strays: shares of presses, and of presses before which she does."""

    wrong: float = 0.033
    left_out: float = 0.033
    brushed: float = 0.033
    stop: float = 0.015
    back_a_few: float = 0.006
    back_to_bar: float = 0.003
    back_to_line: float = 0.001
    to_beginning: float = 0.0002
    bar_left_out: float = 0.001
    bar: float = 4.0
    line: float = 16.0


def lay_over(playing: Playing, notes: Sequence, random: Random, ways: Ways) -> Playing:
    """Lay a beginner's ways over a playing: what she repeats has its own timing again."""
    heard: Playing = []
    here, now = 0, 0.0
    jumps_left = len(playing) // 10 + 5
    while here < len(playing):
        press = playing[here]
        previous = playing[here - 1].ms if here else press.ms
        now += press.ms - previous
        target = _where_to(playing, here, notes, random, ways) if jumps_left else None
        if target is not None:
            jumps_left -= 1
            here, press = target, playing[target]
            now += random.uniform(300, 2500)
        elif random.random() < ways.stop:
            now += random.lognormvariate(7.3, 0.9)
        heard += _strayed(replace(press, ms=now), random, ways)
        here += 1
    return in_time(heard)


def _strayed(press: Press, random: Random, ways: Ways) -> Playing:
    draw = random.random()
    if press.note is None:
        return [press]
    if draw < ways.wrong:
        return [Press(_beside(press.key, random), press.ms, None)]
    if draw < ways.wrong + ways.left_out:
        return []
    if draw < ways.wrong + ways.left_out + ways.brushed:
        brushed = Press(_beside(press.key, random), press.ms + random.uniform(-50, 50), None)
        return [press, brushed]
    return [press]


def _where_to(
    playing: Playing, here: int, notes: Sequence, random: Random, ways: Ways
) -> int | None:
    """Return the press to which she jumps from one press, None where she plays on."""
    note = playing[here].note
    if note is None:
        return None
    onset = float(notes[note].onset)
    draw = random.random()
    for share, there in (
        (ways.back_a_few, None),
        (ways.back_to_bar, onset - onset % ways.bar),
        (ways.back_to_line, onset - onset % ways.line),
        (ways.to_beginning, 0.0),
        (ways.bar_left_out, onset + ways.bar),
    ):
        if draw < share:
            goal = there
            if goal is None:
                played = [press.note for press in playing[:here] if press.note is not None]
                back = played[-min(len(played), random.randrange(2, 9)) :]
                goal = float(notes[back[0]].onset) if back else onset
            return next(
                (
                    at
                    for at, press in enumerate(playing)
                    if press.note is not None and float(notes[press.note].onset) >= goal
                ),
                None,
            )
        draw -= share
    return None


def _trill(key: int, at: float, quarter: float, random: Random) -> Playing:
    count = random.randrange(4, 12)
    gap = random.uniform(55, 100)
    up = random.choice((1, 2))
    return [
        Press(key + (up if turn % 2 else 0), at + turn * gap, None)
        for turn in range(1, count)
        if turn * gap < quarter
    ]


def _beside(key: int, random: Random) -> int:
    return _clamped(key + random.choice((-2, -1, 1, 2)))


def _clamped(key: int) -> int:
    return min(max(key, LOWEST), HIGHEST)
