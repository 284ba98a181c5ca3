"""What the scenes of timed exercises share: their clock, their pages and how they end."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Generic, Protocol, TypeVar

from drills.app.session_clock import SessionClock
from drills.engrave.layer import Layer
from drills.sessions import events
from drills.sessions.view import Phase
from drills.window.scene import Command


class ExerciseView(Protocol):
    """What every exercise lets be seen: the number of what is shown, and how far it is."""

    @property
    def showing(self) -> int:
        """Rises with everything that is asked anew."""

    @property
    def phase(self) -> Phase:
        """Whether something is asked, found, or all is over."""


Shown = TypeVar("Shown", bound=ExerciseView)


class ExerciseScene(ABC, Generic[Shown]):
    """Times what is shown from when it was drawn; a page is laid out once a view and size."""

    takes_letters = False
    in_focus = ""

    def __init__(self, clock: SessionClock) -> None:
        """Prepare an exercise whose times count from `clock`."""
        self.over = False
        self._clock = clock
        self._on_screen = 0
        self._laid: tuple[Shown, tuple[int, int], list[Layer]] | None = None

    @property
    @abstractmethod
    def view(self) -> Shown:
        """What is to be seen now."""

    @property
    @abstractmethod
    def due(self) -> float | None:
        """When something happens of itself, in milliseconds since the start."""

    @abstractmethod
    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the exercise and carry out what comes of it."""

    @abstractmethod
    def page(self, view: Shown, width: int, height: int) -> list[Layer]:
        """Lay out a view in a window of this size."""

    @property
    def due_ns(self) -> int | None:
        """When something happens of itself, if nothing else comes before."""
        due = self.due
        return None if due is None else self._clock.started_ns + round(due * 1e6)

    @property
    def finished(self) -> bool:
        """Whether the closing page is shown."""
        return self.view.phase is Phase.FINISHED

    def command(self, command: Command, at_ns: int) -> bool:
        """Escape ends the session, and then leaves."""
        if command is not Command.LEAVE:
            return False
        self.leave(at_ns)
        return True

    def typed(self, letters: str) -> None:
        """Letters play notes here."""

    def leave(self, at_ns: int) -> None:
        """End the session, or leave its closing page."""
        if self.finished:
            self.over = True
        else:
            self.take(events.Stop(), at_ns)

    def layers(self, width: int, height: int) -> list[Layer]:
        """Return the page of the moment."""
        view, size = self.view, (width, height)
        if self._laid is None or self._laid[0] is not view or self._laid[1] != size:
            self._laid = view, size, self.page(view, width, height)
        return self._laid[2]

    def drawn(self, at_ns: int) -> bool:
        """Tell the exercise when something new has come on the screen."""
        showing = self.view.showing
        if showing == self._on_screen:
            return False
        self._on_screen = showing
        self.take(events.OnScreen(showing), at_ns)
        return True

    def milliseconds(self, at_ns: int) -> float:
        """Return a moment in milliseconds since the start."""
        return (at_ns - self._clock.started_ns) / 1e6
