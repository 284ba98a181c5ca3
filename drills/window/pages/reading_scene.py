"""The reading scene: lines of music played in the window, from the first to the last page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from drills.app.session_clock import SessionClock
from drills.engrave.layer import Layer
from drills.sessions import events
from drills.sessions.effects import Effect
from drills.sessions.reading.reading import Reading
from drills.sessions.reading.view import ReadingView
from drills.sessions.view import View
from drills.window.pages.buttons import button_at
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.exercise import ExerciseScene
from drills.window.pages.middle_c_page import middle_c_page
from drills.window.pages.reading_page import (
    GO_ON,
    ONCE_MORE,
    ReadingSetting,
    coming_layers,
    reading_page,
)
from drills.window.scene import Command

_BUTTONS: dict[str, events.Event] = {GO_ON: events.Skip(), ONCE_MORE: events.AskAgain()}
_KEYS: dict[Command, events.Event] = {
    Command.SPACE: events.Skip(),
    Command.ENTER: events.Skip(),
    Command.BACK: events.AskAgain(),
}


class ReadingScene(ExerciseScene[ReadingView]):
    """Passes events to a reading session, and carries out what it asks for."""

    def __init__(
        self,
        setting: ReadingSetting,
        reading: Reading,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
    ) -> None:
        """Prepare a session; `carry_out` writes and remembers what it asks for."""
        super().__init__(clock)
        self._setting = setting
        self._reading = reading
        self._carry_out = carry_out

    @property
    def view(self) -> ReadingView:
        """What the session shows now."""
        return self._reading.view

    @property
    def due(self) -> float | None:
        """When something happens of itself, in milliseconds since the start."""
        return self._reading.due

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and carry out what comes of it."""
        for effect in self._reading.handle(event, self.milliseconds(at_ns)):
            self._carry_out(effect)

    def command(self, command: Command, at_ns: int) -> bool:
        """Space and Enter go on, Backspace reads the line once more."""
        if command not in _KEYS or self.finished:
            return super().command(command, at_ns)
        self.take(_KEYS[command], at_ns)
        return True

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Press a button; leave the closing page at a touch."""
        if self.finished:
            self.leave(at_ns)
            return
        button = None if self.view.tuning else button_at(self._setting.buttons(self.view), x, y)
        if button is not None:
            self.take(_BUTTONS[button.action], at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """Return the key of the strip at a point, if there is one."""
        if self.finished:
            return None
        if self.view.tuning:
            view, setting = self._middle_c()
            return setting.strip(view).key_at(x, y)
        return self._setting.strip(self.view).key_at(x, y)

    def page(self, view: ReadingView, width: int, height: int) -> list[Layer]:
        """Lay out the line of the moment, or the closing page."""
        self._setting = replace(self._setting, width=width, height=height)
        return (
            practice_page(*self._middle_c()) if view.tuning else reading_page(view, self._setting)
        )

    def likely_layers(self) -> Iterator[Layer]:
        """Yield the layers of the notes to come, in ink."""
        if not self.view.tuning:
            yield from coming_layers(self.view, self._setting)

    def _middle_c(self) -> tuple[View, PageSetting]:
        setting = self._setting
        return middle_c_page(self.view, setting.naming, setting.width, setting.height)
