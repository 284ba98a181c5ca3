"""The piano of a session: whether it is there, how it is shifted, and how that is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.cards.card import Card, Kind
from drills.sessions.events import PianoFound
from drills.sessions.key_group import Press
from drills.sessions.tuning import MiddleCQuestion, unshifted
from landmarks.answer import Verdict, judge
from landmarks.pitch import MIDDLE_C
from landmarks.stave import TREBLE

MIDDLE_C_CARD = Card(Kind.KEY, TREBLE, MIDDLE_C, MIDDLE_C)
"""What a piano is asked for whose shift is not known."""


@dataclass(frozen=True)
class Tuning:
    """What a key group tells of a piano's shift: the key under its finger, and what it was.

    `shift` is None while it is not known.
    """

    press: Press
    verdict: Verdict
    shift: int | None


class ConnectedPiano:
    """Knows the connected piano; without one, keys are those of the screen and not shifted."""

    def __init__(self) -> None:
        """Begin without a piano."""
        self.found: PianoFound | None = None
        self._question = MiddleCQuestion()

    @property
    def port(self) -> str | None:
        """The port of the connected piano."""
        return None if self.found is None else self.found.port

    @property
    def is_untuned(self) -> bool:
        """Whether there is a piano whose shift is not known."""
        return self.found is not None and self.found.shift is None

    def connect(self, found: PianoFound) -> None:
        """Take in that a piano was found."""
        self.found = found

    def disconnect(self) -> None:
        """Take in that it is gone."""
        self.found = None

    def meant(self, key: int) -> int | None:
        """Return the key under the finger for a key number, None if there is no such key."""
        return unshifted(key, (self.found.shift if self.found else None) or 0)

    def ask(self) -> None:
        """Ask for middle C, anew."""
        self._question = MiddleCQuestion()

    def tune(self, group: Sequence[Press]) -> Tuning:
        """Learn from a key group that answers the question; several keys at once tell nothing."""
        first, alone = group[0], len(group) == 1
        shift = self._question.press(first.key) if alone else None
        press = replace(first, key=first.key - (shift or 0))
        verdict = judge(MIDDLE_C, TREBLE, press.key).verdict if alone else Verdict.CLUSTER
        if self.found is not None and shift is not None:
            self.found = replace(self.found, shift=shift)
        return Tuning(press, verdict, shift)
