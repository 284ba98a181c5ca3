"""The teacher plays: the page goes with her, so that a child's eyes travel along the music.

Wherever she is in the piece, with slips, returns and bars left out, the line she plays is the one
that is shown; when she stops, it stays. Nothing is asked and nothing is counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from drills.sessions.effects import Effect
from drills.sessions.events import Event, KeyPressed, KeyReleased
from drills.sessions.key_group import Press
from drills.sessions.line_session import LineSession, LineView
from drills.sessions.view import Phase
from landmarks.following import Follower
from landmarks.line import Line, LineNote


@dataclass(frozen=True, kw_only=True)
class PlayingView(LineView):
    """All that can be seen while the teacher plays. Notes go by their numbers in the line.

    `number` is the line's number in the piece, `following` the line after it, `at` the notes of
    the moment at which she is.
    """

    number: int = 0
    following: Line | None = None
    at: tuple[int, ...] = ()


@dataclass(frozen=True)
class _PieceNote:
    """A note of a piece that is cut into lines: where it is in the whole, and in its line."""

    onset: Fraction
    key: int
    is_grace: bool
    line: int
    number: int


class TeacherPlaying(LineSession[PlayingView]):
    """One playing of a piece: feed it events in the order they come, show its view."""

    def __init__(self, lines: Sequence[Line]) -> None:
        """Prepare to follow a piece, cut into lines that hold at least one note."""
        super().__init__(PlayingView())
        self._lines = tuple(lines)
        self._notes = list(_notes_of(self._lines))
        self._follower = Follower(self._notes)
        self._heard_ms = 0.0

    def _respond_further(self, event: Event, t: float) -> Iterator[Effect]:
        yield from ()

    def _next(self, t: float) -> Iterator[Effect]:
        yield from self._show_next(replace(self._view_of(self.view.number), at=self.view.at))

    def _begin_line(self, line: Line, t: float) -> Iterator[Effect]:
        yield from ()

    def _takes_keys(self) -> bool:
        return self.view.phase is Phase.ASKED and self.view.tuning

    def _key_moved(self, event: KeyPressed | KeyReleased, t: float) -> Iterator[Effect]:
        if self.view.tuning:
            yield from super()._key_moved(event, t)
            return
        key = self._piano.meant(event.key)
        if isinstance(event, KeyPressed) and key is not None and self.view.line is not None:
            yield from self._follow(key, t)

    def _follow(self, key: int, t: float) -> Iterator[Effect]:
        # A driver's clock may set one key a little before the one that was heard before it.
        self._heard_ms = max(self._heard_ms, t)
        heard = self._follower.hear(key, self._heard_ms)
        if heard.note is None:
            return
        note = self._notes[heard.note]
        at = tuple(each.number for each in self._notes if each.onset == note.onset)
        view = replace(self._view_of(note.line), showing=self.view.showing, at=at)
        yield self._show(view)

    def _view_of(self, number: int) -> PlayingView:
        after = self._lines[number + 1] if number + 1 < len(self._lines) else None
        return PlayingView(line=self._lines[number], number=number, following=after)

    def _judge(self, group: list[Press]) -> Iterator[Effect]:
        """Keys are followed one by one as they are heard, not in groups."""
        yield from ()


def _notes_of(lines: Sequence[Line]) -> Iterator[_PieceNote]:
    """Yield the notes of lines that follow each other; what a tie holds on to is not played."""
    begun = Fraction(0)
    for place, line in enumerate(lines):
        for number, note in enumerate(line.notes):
            if not note.is_held:
                yield _PieceNote(begun + note.onset, note.key, note.is_grace, place, number)
        begun += max((note.onset + _length(note) for note in line.notes), default=Fraction(0))


def _length(note: LineNote) -> Fraction:
    """Return how long a note is written; a value without a name is taken as a quarter."""
    return Fraction(1) if note.value is None else note.value.quarters
