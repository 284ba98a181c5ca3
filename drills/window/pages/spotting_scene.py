"""The spotting scene: lines of music in the window, from the first question to the last page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from drills.app.session_clock import SessionClock
from drills.engrave.layer import Layer
from drills.sessions import events
from drills.sessions.effects import Effect
from drills.sessions.spotting.question import NoteQuestion
from drills.sessions.spotting.spotting import Spotting
from drills.sessions.spotting.view import SpottingView
from drills.sessions.view import Phase, View
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.exercise import ExerciseScene
from drills.window.pages.middle_c_page import middle_c_page
from drills.window.pages.spotting_page import (
    SpottingSetting,
    spotting_closing_page,
    spotting_page,
)
from drills.window.scene import Command
from landmarks.names import LETTER


class SpottingScene(ExerciseScene[SpottingView]):
    """Passes events to a spotting session, and carries out what it asks for."""

    def __init__(
        self,
        setting: SpottingSetting,
        spotting: Spotting,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
    ) -> None:
        """Prepare a session; `carry_out` writes and remembers what it asks for."""
        super().__init__(clock)
        self._setting = setting
        self._spotting = spotting
        self._carry_out = carry_out

    @property
    def view(self) -> SpottingView:
        """What the session shows now."""
        return self._spotting.view

    @property
    def due(self) -> float | None:
        """When something happens of itself, in milliseconds since the start."""
        return self._spotting.due

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and carry out what comes of it."""
        for effect in self._spotting.handle(event, self.milliseconds(at_ns)):
            self._carry_out(effect)

    def command(self, command: Command, at_ns: int) -> bool:
        """The up arrow points at the next note."""
        if command is not Command.UP:
            return super().command(command, at_ns)
        self.take(events.Hint(), at_ns)
        return True

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Take a touch as the note it means; leave the closing page at a touch."""
        if self.finished:
            self.leave(at_ns)
        elif self.view.line is not None and not self.view.tuning:
            number = self._setting.note_at(self.view.line, x, y)
            if number is not None:
                self.take(events.NoteTouched(number), at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """Return the key at a point while middle C is asked for; else there is no keyboard here."""
        if not self.view.tuning:
            return None
        view, setting = _middle_c(self.view, self._setting.width, self._setting.height)
        return setting.strip(view).key_at(x, y)

    def page(self, view: SpottingView, width: int, height: int) -> list[Layer]:
        """Lay out the line of the moment, or the closing page."""
        self._setting = replace(self._setting, width=width, height=height)
        if view.tuning:
            return practice_page(*_middle_c(view, width, height))
        page = spotting_closing_page if view.phase is Phase.FINISHED else spotting_page
        return page(view, self._setting)

    def likely_layers(self) -> Iterator[Layer]:
        """Return the layers of what each find would show."""
        view = self.view
        for number in view.wanted:
            if view.phase is Phase.ASKED and not view.tuning:
                found = SpottingView(line=view.line, wanted=view.wanted, found=frozenset({number}))
                yield from spotting_page(found, self._setting)


def _middle_c(view: SpottingView, width: int, height: int) -> tuple[View, PageSetting]:
    question = view.question
    naming = question.naming if isinstance(question, NoteQuestion) else LETTER
    return middle_c_page(view, naming, width, height)
