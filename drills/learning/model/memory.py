"""What is remembered of one note: the beliefs about it, what a page counts, and its state."""

from __future__ import annotations

from datetime import date, datetime

import msgspec

from drills.learning.counted_window import counted_window, is_trouble, supports_ink
from drills.learning.parameters import Parameters
from drills.learning.response import Response

DAY = 86400.0
"""Seconds."""


class Memory(msgspec.Struct, kw_only=True):
    """One note's record; a plain struct, so that a checkpoint keeps it as it is."""

    beliefs: list[list[float]] = []
    """Beliefs over the levels, one for each way of learning, for the moment after `last`."""
    last: datetime | None = None
    answers: int = 0
    rights: list[bool] = []
    """Whether each of the answers was right that a page counts, oldest first."""
    right_seconds: list[float] = []
    """The seconds of as many right answers, oldest first."""
    p_secured: float = 0.0
    """The probability of being secured a day after `last`, as believed then; 0 before."""
    turn: int = 0
    """The pupil's how manieth card this note was when it was last asked."""
    fluent_days: int = 0
    last_fluent_day: date | None = None
    fluent_run: int = 0
    """Fluent answers on end, of the day of the last answer alone."""
    inked: bool = False
    ever_inked: bool = False

    def lag(self, now: datetime) -> float | None:
        """Return the seconds since the note was last read, None if it never was."""
        return None if self.last is None else max(0.0, (now - self.last).total_seconds())

    def count(self, response: Response, fluent: bool, parameters: Parameters) -> None:
        """Count one answer."""
        day = response.at.date()
        same_day = self.last is not None and self.last.date() == day
        self.answers += 1
        self.rights = list(counted_window([*self.rights, response.correct], parameters))
        if response.correct:
            seconds = [*self.right_seconds, response.seconds]
            self.right_seconds = list(counted_window(seconds, parameters))
        self.fluent_run = (self.fluent_run * same_day + 1) * fluent
        if fluent and day != self.last_fluent_day:
            self.fluent_days += 1
            self.last_fluent_day = day
        self.last = response.at

    def settle(self, heedful: bool, parameters: Parameters) -> None:
        """Let the last answer turn the state, if belief and record both say so.

        One odd answer cannot do it: ink fades where the record contradicts it, or where the note
        is more likely not secured. Only a `heedful` pupil gets new ink.
        """
        if self.inked:
            self.inked = self.p_secured >= parameters.fade_below and not is_trouble(
                self.rights, parameters
            )
        else:
            self.inked = (
                heedful
                and self.p_secured >= parameters.ink_from
                and self.fluent_run > 0
                and self.fluent_days >= parameters.ink_days
                and supports_ink(self.rights, parameters)
            )
        self.ever_inked |= self.inked


class Folded(msgspec.Struct, frozen=True, kw_only=True):
    """All that is believed of a pupil after some answers, as a checkpoint keeps it.

    `memories` are by the ids of the cards.
    """

    turns: int
    weights: list[float]
    met: float
    met_known: float
    on_trusted: list[bool]
    careless: bool
    key_times: list[float]
    right_times: list[float]
    memories: dict[str, Memory]
