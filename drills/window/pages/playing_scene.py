"""The scene that goes with the teacher's playing, and may ask for something in her line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from drills.app.session_clock import SessionClock
from drills.engrave.layer import Layer
from drills.sessions import events
from drills.sessions.effects import Effect
from drills.sessions.reading.playing import PlayingView, TeacherPlaying
from drills.sessions.view import View
from drills.window.pages.buttons import button_at
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.exercise import ExerciseScene
from drills.window.pages.middle_c_page import middle_c_page
from drills.window.pages.playing_page import FIND, PlayingSetting, playing_page
from drills.window.scene import Command
from landmarks.line import Line
from landmarks.names import Naming


class PlayingScene(ExerciseScene[PlayingView]):
    """Shows where the teacher is; `wanted` is the line in which something is to be found."""

    def __init__(
        self,
        setting: PlayingSetting,
        playing: TeacherPlaying,
        naming: Naming,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
    ) -> None:
        """Prepare to follow; `carry_out` remembers pianos."""
        super().__init__(clock)
        self.wanted: Line | None = None
        self._setting = setting
        self._playing = playing
        self._naming = naming
        self._carry_out = carry_out

    @property
    def view(self) -> PlayingView:
        """What is shown now."""
        return self._playing.view

    @property
    def due(self) -> float | None:
        """When something happens of itself, in milliseconds since the start."""
        return self._playing.due

    def take(self, event: events.Event, at_ns: int) -> None:
        """Follow what is played. A scene that comes back begins where it was left."""
        if isinstance(event, events.Begin):
            self.over, self.wanted, self._on_screen = False, None, 0
        for effect in self._playing.handle(event, self.milliseconds(at_ns)):
            self._carry_out(effect)

    def command(self, command: Command, at_ns: int) -> bool:
        """Space asks for something in the line that is played."""
        if command is not Command.SPACE:
            return super().command(command, at_ns)
        self._find()
        return True

    def leave(self, at_ns: int) -> None:
        """Leave at once: nothing was counted that a last page could tell of."""
        self.over = True

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Press a button."""
        button = button_at(self._setting.buttons, x, y)
        if button is None or self.view.tuning:
            return
        if button.action == FIND:
            self._find()
        else:
            self.leave(at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """Return the key at a point while middle C is asked for; else there is no keyboard."""
        if not self.view.tuning:
            return None
        view, setting = self._middle_c()
        return setting.strip(view).key_at(x, y)

    def page(self, view: PlayingView, width: int, height: int) -> list[Layer]:
        """Lay out the lines of the moment."""
        self._setting = replace(self._setting, width=width, height=height)
        if view.tuning:
            return practice_page(*self._middle_c())
        return playing_page(view, self._setting)

    def likely_layers(self) -> Iterator[Layer]:
        """Yield the layers of the line after this one, where it will stand."""
        following = self.view.following
        if following is not None and not self.view.tuning:
            yield from playing_page(PlayingView(line=following), self._setting)

    def _find(self) -> None:
        if self.view.line is not None and not self.view.tuning:
            self.wanted, self.over = self.view.line, True

    def _middle_c(self) -> tuple[View, PageSetting]:
        return middle_c_page(self.view, self._naming, self._setting.width, self._setting.height)
