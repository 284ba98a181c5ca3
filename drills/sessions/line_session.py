"""What sessions about a line of music share: a piano that is not known comes before the line.

Middle C is asked for in the line's place until the piano's shift is known; then the line comes
back as it was left.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from drills.sessions.effects import CardAsked, Effect
from drills.sessions.piano_state import MIDDLE_C_CARD
from drills.sessions.timed_session import RIGHT_MS, Due, TimedSession
from drills.sessions.view import Phase, TimedView
from landmarks.line import Line


@dataclass(frozen=True, kw_only=True)
class LineView(TimedView):
    """What can be seen of every session about a line of music."""

    line: Line | None = None


Shown = TypeVar("Shown", bound=LineView)


class LineSession(TimedSession[Shown]):
    """A session that says what comes next (`_next`) and when its line is there (`_begin_line`)."""

    @abstractmethod
    def _next(self, t: float) -> Iterator[Effect]:
        """Show the next line, or ask the next thing of this one, or finish."""

    @abstractmethod
    def _begin_line(self, line: Line, t: float) -> Iterator[Effect]:
        """Tell that the line is on the screen, and what is asked of it."""

    def _as_anew(self) -> Shown:
        """Return the view without what was said of the latest answer."""
        return self.view

    def _go_on(self, t: float) -> Iterator[Effect]:
        if self.view.tuning:
            yield self._show_anew()
        else:
            yield from self._next(t)

    def _show_next(self, view: Shown) -> Iterator[Effect]:
        """Show a line or a question of it, middle C before it if the piano is not known."""
        self._asked_at, self._group = None, []
        yield self._show(replace(view, showing=self.view.showing + 1))
        if self._piano.is_untuned:
            yield self._ask_for_middle_c()

    def _begin_to_wait(self, t: float) -> Iterator[Effect]:
        line = self.view.line
        if line is None:
            return
        self._asked_at, self._attempt = t, 1
        if self.view.tuning:
            yield CardAsked(t, MIDDLE_C_CARD, str(MIDDLE_C_CARD))
        else:
            yield from self._begin_line(line, t)

    def _finished(self) -> Shown:
        return replace(self.view, phase=Phase.FINISHED, tuning=False)

    def _piano_found(self, t: float) -> Iterator[Effect]:
        if self._piano.is_untuned and self.view.phase is Phase.ASKED and self.view.line:
            yield self._ask_for_middle_c()
        elif self.view.tuning:
            yield self._show_anew()

    def _piano_lost(self, t: float) -> Iterator[Effect]:
        if self.view.tuning:
            yield self._show_anew()

    def _tuned(self, shift: int, t: float) -> Iterator[Effect]:
        self._due = Due(t + RIGHT_MS, self._go_on)
        yield self._show(replace(self.view, phase=Phase.RIGHT))

    def _ask_for_middle_c(self) -> Effect:
        self._piano.ask()
        return self._show_anew(tuning=True)

    def _show_anew(self, tuning: bool = False) -> Effect:
        """Show the line as if it came anew, what was done in it still done."""
        self._asked_at, self._group = None, []
        return self._show(
            replace(
                self._as_anew(), showing=self.view.showing + 1, phase=Phase.ASKED, tuning=tuning,
                tuning_again=False,
            )
        )  # fmt: skip
