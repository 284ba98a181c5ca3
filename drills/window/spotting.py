"""The spotting scene: lines of music in the window, from the first question to the last page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from drills import events
from drills.engrave.layer import Layer
from drills.log import Record
from drills.recorder import SessionClock
from drills.spotting.session import Spotting, SpottingView
from drills.view import Phase
from drills.window.exercise import ExerciseScene
from drills.window.scene import Command
from drills.window.spotting_page import SpottingSetting, spotting_closing_page, spotting_page


class SpottingScene(ExerciseScene[SpottingView]):
    """Passes events to a spotting session, and keeps what it records."""

    def __init__(
        self,
        setting: SpottingSetting,
        spotting: Spotting,
        clock: SessionClock,
        keep: Callable[[Record], None],
    ) -> None:
        """Prepare a session; `keep` writes its records."""
        super().__init__(clock)
        self._setting = setting
        self._spotting = spotting
        self._keep = keep

    @property
    def view(self) -> SpottingView:
        """What the session shows now."""
        return self._spotting.view

    @property
    def due(self) -> float | None:
        """When something happens of itself, in milliseconds since the start."""
        return self._spotting.due

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and keep what comes of it."""
        for record in self._spotting.handle(event, self.milliseconds(at_ns)):
            self._keep(record)

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
        elif self.view.line is not None:
            number = self._setting.note_at(self.view.line, x, y)
            if number is not None:
                self.take(events.NoteTouched(number), at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """There is no keyboard on this page."""
        return None

    def page(self, view: SpottingView, width: int, height: int) -> list[Layer]:
        """Lay out the line of the moment, or the closing page."""
        self._setting = replace(self._setting, width=width, height=height)
        page = spotting_closing_page if view.phase is Phase.FINISHED else spotting_page
        return page(view, self._setting)

    def likely_layers(self) -> Iterator[Layer]:
        """Give the layers of what each find would show."""
        view = self.view
        for number in view.wanted:
            if view.phase is Phase.ASKED:
                found = SpottingView(line=view.line, wanted=view.wanted, found=frozenset({number}))
                yield from spotting_page(found, self._setting)
