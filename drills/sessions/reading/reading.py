"""A reading session: lines of music, each played at the pupil's own pace.

A note goes from pencil to ink as it is played, in whatever order the player comes to it; the line
waits for nobody and hurries nobody. A wrong key is shown where it lives until another key goes
down. When the last note is played the line shows where she hesitated, and stays until she goes on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drills.sessions.effects import Effect, Hands, LineShown
from drills.sessions.events import AskAgain, Event, KeyPressed, KeyReleased, Skip
from drills.sessions.key_group import Press
from drills.sessions.line_session import LineSession
from drills.sessions.reading.account import LineAccount, Missed, notes_to_read
from drills.sessions.reading.effects import LineFinished, NoteRead, WrongKeyInLine
from drills.sessions.reading.view import ReadingView, WrongKey
from drills.sessions.timed_session import SETTLE_MS, Due
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from landmarks.line import Line


class Reading(LineSession[ReadingView]):
    """One reading session: feed it events in the order they come, carry out its effects."""

    def __init__(self, lines: Iterator[Line], hands: Hands, minutes: float) -> None:
        """Prepare a session that ends with the first line that is left after `minutes`."""
        super().__init__(ReadingView(hands=hands))
        self._lines = lines
        self._end = minutes * 60_000
        self._account: LineAccount | None = None

    def _respond_further(self, event: Event, t: float) -> Iterator[Effect]:
        match event:
            case Skip():
                yield from self._leave_line(t)
                yield from self._next(t)
            case AskAgain():
                yield from self._leave_line(t)
                if self.view.line is not None:
                    yield from self._show_line(self.view.line)

    def _takes_keys(self) -> bool:
        return self.view.phase is Phase.ASKED and self.view.tuning

    def _stood_still(self) -> None:
        if self._account is not None:
            self._account.interrupt()

    # Lines

    def _next(self, t: float) -> Iterator[Effect]:
        line = None if t >= self._end else self._next_line()
        if line is None:
            yield from self._finish("done", t)
        else:
            yield from self._show_line(line)

    def _next_line(self) -> Line | None:
        """Return the next line that holds notes for these hands."""
        return next((line for line in self._lines if notes_to_read(line, self.view.hands)), None)

    def _show_line(self, line: Line) -> Iterator[Effect]:
        self._due = None
        hands, lines_read = self.view.hands, self.view.lines_read
        numbers = notes_to_read(line, hands)
        yield from self._show_next(
            ReadingView(line=line, hands=hands, to_read=numbers, lines_read=lines_read)
        )

    def _begin_line(self, line: Line, t: float) -> Iterator[Effect]:
        if self._account is None:
            self._account = LineAccount(line, self.view.to_read)
            yield LineShown(t, line, self.view.hands)

    def _leave_line(self, t: float) -> Iterator[Effect]:
        """Tell how a line was read that is left before its end."""
        yield from self._settle(t)
        if self._account is not None:
            yield from self._account.answers(t, self._account.hesitations())
            yield LineFinished(t, "left")
        self._account = None

    def _end_line(self, account: LineAccount, t: float) -> Iterator[Effect]:
        yield from self._settle(t)
        found = account.hesitations()
        yield from account.answers(t, found)
        yield LineFinished(t, "played")
        self._account = None
        certain = tuple((n, each) for n, each in found.items() if each and each.is_certain)
        lines_read = self.view.lines_read + 1
        yield self._show(
            replace(self.view, phase=Phase.RIGHT, hesitations=certain, lines_read=lines_read)
        )

    def _finish(self, why: str, t: float) -> Iterator[Effect]:
        yield from self._leave_line(t)
        yield from super()._finish(why, t)

    def _as_anew(self) -> ReadingView:
        self._stood_still()
        return replace(self.view, wrong=None)

    # Keys

    def _key_moved(self, event: KeyPressed | KeyReleased, t: float) -> Iterator[Effect]:
        if self.view.tuning:
            yield from super()._key_moved(event, t)
            return
        key, account = self._piano.meant(event.key), self._account
        asked = self.view.phase is Phase.ASKED and self._asked_at is not None
        if isinstance(event, KeyPressed) and asked and account and key is not None:
            yield from self._hear(account, Press(key, t))

    def _hear(self, account: LineAccount, press: Press) -> Iterator[Effect]:
        heard = account.hear(press)
        yield from self._tell_wrong(account)
        if isinstance(heard, Missed):
            self._due = self._due or Due(press.t + SETTLE_MS, self._settle)
            yield self._show(replace(self.view, wrong=WrongKey(heard.number, heard.answer)))
            return
        yield NoteRead(press.t, heard.number, press.key, heard.way)
        yield self._show(
            replace(self.view, read=frozenset(account.read), at=account.at, wrong=None)
        )
        if account.is_over:
            yield from self._end_line(account, press.t)

    def _settle(self, t: float) -> Iterator[Effect]:
        yield from super()._settle(t)
        if self._account is not None and self._account.is_unsettled:
            self._due = None
            self._account.settle()
            yield from self._tell_wrong(self._account)

    def _tell_wrong(self, account: LineAccount) -> Iterator[Effect]:
        for missed in account.take_judged():
            answer, press = missed.answer, missed.press
            yield WrongKeyInLine(
                press.t, missed.number, answer.verdict, press.key, answer.steps
            )  # fmt: skip
            if answer.verdict is Verdict.BRUSHED:
                yield self._show(replace(self.view, wrong=None))

    def _judge(self, group: list[Press]) -> Iterator[Effect]:
        """Keys of a line are judged one by one as they are heard, not in groups."""
        yield from ()
