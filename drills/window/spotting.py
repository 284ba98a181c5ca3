"""The spotting scene: lines of music in the window, from the first question to the last page."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from drills import events
from drills.engrave.layer import Layer
from drills.log import Record
from drills.recorder import SessionClock
from drills.spotting.session import Spotting, SpottingView
from drills.view import Phase
from drills.window.scene import Command
from drills.window.spotting_page import SpottingSetting, spotting_closing_page, spotting_page


class SpottingScene:
    """Passes events to a spotting session, and keeps what it records."""

    def __init__(
        self,
        setting: SpottingSetting,
        spotting: Spotting,
        clock: SessionClock,
        keep: Callable[[Record], None],
    ) -> None:
        """Prepare a session; `keep` writes its records."""
        self.over = False
        self._setting = setting
        self._spotting = spotting
        self._clock = clock
        self._keep = keep
        self._on_screen = 0
        self._laid: tuple[SpottingView, SpottingSetting, list[Layer]] | None = None

    @property
    def due_ns(self) -> int | None:
        """When something happens of itself, if nothing else comes before."""
        due = self._spotting.due
        return None if due is None else self._clock.started_ns + round(due * 1e6)

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and keep what comes of it."""
        for record in self._spotting.handle(event, (at_ns - self._clock.started_ns) / 1e6):
            self._keep(record)

    def command(self, command: Command, at_ns: int) -> bool:
        """Escape ends the session, and then leaves; the up arrow points at the next note."""
        match command:
            case Command.LEAVE:
                self._leave(at_ns)
            case Command.UP:
                self.take(events.Hint(), at_ns)
            case _:
                return False
        return True

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Take a touch as the note it means; leave the closing page at a touch."""
        view = self._spotting.view
        if view.phase is Phase.FINISHED:
            self._leave(at_ns)
        elif view.line is not None:
            number = self._setting.note_at(view.line, x, y)
            if number is not None:
                self.take(events.NoteTouched(number), at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """There is no keyboard on this page."""
        return None

    def layers(self, width: int, height: int) -> list[Layer]:
        """Give the page of the moment."""
        if (width, height) != (self._setting.width, self._setting.height):
            self._setting = SpottingSetting(width, height)
        view, laid = self._spotting.view, self._laid
        if laid is None or laid[0] is not view or laid[1] is not self._setting:
            page = spotting_closing_page if view.phase is Phase.FINISHED else spotting_page
            laid = self._laid = view, self._setting, page(view, self._setting)
        return laid[2]

    def drawn(self, at_ns: int) -> bool:
        """Tell the session when a question has come on the screen."""
        view = self._spotting.view
        if view.showing == self._on_screen:
            return False
        self._on_screen = view.showing
        self.take(events.OnScreen(view.showing), at_ns)
        return True

    def likely_layers(self) -> Iterator[Layer]:
        """Give the layers of what each find would show."""
        view = self._spotting.view
        for number in view.wanted:
            if view.phase is Phase.ASKED:
                found = SpottingView(line=view.line, wanted=view.wanted, found=frozenset({number}))
                yield from spotting_page(found, self._setting)

    def _leave(self, at_ns: int) -> None:
        if self._spotting.view.phase is Phase.FINISHED:
            self.over = True
        else:
            self.take(events.Stop(), at_ns)
