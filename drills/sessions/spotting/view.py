"""What can be seen of a spotting session."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from drills.sessions.line_session import LineView
from drills.sessions.spotting.question import Question
from landmarks.answer import Answer


@dataclass(frozen=True, kw_only=True)
class SpottingView(LineView):
    """All that can be seen of a spotting session at one moment. Notes go by their numbers.

    `wanted` are the notes to be found, `found` those that are. `touched` is the wrong note that
    was touched last; `answer` says what it, or a key that was played, is against the note asked
    for. `pointed` is the note that is pointed at. `tally` counts what was found, by its name.
    While `tuning`, middle C is asked for in the line's place.
    """

    question: Question | None = None
    wanted: tuple[int, ...] = ()
    found: frozenset[int] = frozenset()
    touched: int | None = None
    answer: Answer | None = None
    pointed: int | None = None
    tally: tuple[tuple[Question, int], ...] = ()

    @property
    def next_wanted(self) -> int | None:
        """The next note to be found, from left to right."""
        return next((number for number in self.wanted if number not in self.found), None)

    def with_found(self, numbers: Collection[int]) -> SpottingView:
        """Return the view once these notes are found, too, and counted."""
        found = self.found | frozenset(numbers)
        assert self.question is not None
        counts = dict(self.tally)
        counts[self.question] = counts.get(self.question, 0) + len(found - self.found)
        return replace(
            self, found=found, touched=None, answer=None, pointed=None,
            tally=tuple(counts.items()),
        )  # fmt: skip
