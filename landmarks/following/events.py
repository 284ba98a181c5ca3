"""A score as a follower needs it: moments in order, and where each key is to be pressed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

import numpy as np
from numpy.typing import NDArray


class FollowedNote(Protocol):
    """What a follower asks of a note: when it stands in the score, and which key plays it."""

    @property
    def onset(self) -> Fraction:
        """Quarter notes after the beginning of the score."""

    @property
    def key(self) -> int:
        """MIDI key number."""


@dataclass(frozen=True)
class ScoreEvents:
    """The moments of a score at which keys are to be pressed.

    `onsets[e]` is the onset of event `e` in quarter notes, `times[e]` the same as a float;
    `members[e]` are the notes that begin there, as indices of the notes handed in; `event_of[n]`,
    `keys[n]` and `is_grace[n]` belong to note `n`. `events_of_key` tells for a MIDI key number the
    events in which it is pressed, as rising indices.
    """

    onsets: tuple[Fraction, ...]
    times: tuple[float, ...]
    members: tuple[tuple[int, ...], ...]
    event_of: tuple[int, ...]
    keys: tuple[int, ...]
    is_grace: tuple[bool, ...]
    events_of_key: dict[int, NDArray[np.intp]]

    @classmethod
    def of(cls, notes: Sequence[FollowedNote]) -> ScoreEvents:
        """Return the events of notes in any order; two notes of one key at one moment are one."""
        onsets = sorted({Fraction(note.onset) for note in notes})
        place = {onset: event for event, onset in enumerate(onsets)}
        event_of = tuple(place[Fraction(note.onset)] for note in notes)
        members: list[dict[int, int]] = [{} for _ in onsets]
        for index, (note, event) in enumerate(zip(notes, event_of, strict=True)):
            members[event].setdefault(note.key, index)
        events_of_key: dict[int, list[int]] = {}
        for event, by_key in enumerate(members):
            for key in by_key:
                events_of_key.setdefault(key, []).append(event)
        return cls(
            onsets=tuple(onsets),
            times=tuple(float(onset) for onset in onsets),
            members=tuple(tuple(by_key.values()) for by_key in members),
            event_of=event_of,
            keys=tuple(note.key for note in notes),
            is_grace=tuple(bool(getattr(note, "is_grace", False)) for note in notes),
            events_of_key={
                key: np.array(events, dtype=np.intp) for key, events in events_of_key.items()
            },
        )

    def note_at(self, event: int, key: int) -> int | None:
        """Return the note of an event that a key plays, None where there is none."""
        for note in self.members[event]:
            if self.keys[note] == key:
                return note
        return None
