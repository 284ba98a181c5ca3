"""What every session at the piano stands on: a pure state machine, (event, time) in, effects out.

The same code runs the window, a replay and a simulated pupil. Times are milliseconds since the
session's start; the machine has no clock of its own. What falls due between two events (a key
group that settles, the next card) happens at its own due time, however late the next event
comes, so that the same events give the same session.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Generic, Literal, TypeVar

from drills.sessions.effects import (
    Answered,
    Effect,
    Ended,
    KeyMoved,
    MachineNoticed,
    PianoChanged,
    Present,
    RememberPiano,
)
from drills.sessions.events import (
    Begin,
    Event,
    KeyPressed,
    KeyReleased,
    OnScreen,
    PianoFound,
    PianoLost,
    ReadLate,
    StoodStill,
    Stop,
)
from drills.sessions.key_group import Press
from drills.sessions.piano_state import MIDDLE_C_CARD, ConnectedPiano
from drills.sessions.view import Phase, TimedView

SETTLE_MS = 50.0
"""Keys that go down within this time belong together. Common practice, no source."""
LONG_STANDSTILL_MS = 30 * 60_000.0
"""A machine that slept longer ends the session: by its clock, later answers would be misdated."""
RIGHT_MS = 900.0
"""How long a found note is looked at before the next card."""
RIGHT_AFTER_HELP_MS = 1600.0

Shown = TypeVar("Shown", bound=TimedView)


@dataclass(frozen=True)
class Due:
    """What happens of itself at `t`."""

    t: float
    action: Callable[[float], Iterator[Effect]]


class TimedSession(ABC, Generic[Shown]):
    """Feed it events in the order they come, carry out the effects it gives.

    A session that stands on it says what is asked next (`_go_on`), what a key group means
    (`_judge`), and what else it listens to (`_respond_further`).
    """

    def __init__(self, view: Shown) -> None:
        """Begin with a view, nothing asked yet."""
        self.view = view
        self._asked_at: float | None = None
        self._attempt = 1
        self._group: list[Press] = []
        self._due: Due | None = None
        self._piano = ConnectedPiano()

    def handle(self, event: Event, t: float) -> list[Effect]:
        """Take in what happened at `t` (milliseconds); return what is to be done, in order."""
        effects = list(self._fall_due(t))
        if self.view.phase is not Phase.FINISHED:
            effects += self._respond(event, t)
        return effects

    @property
    def due(self) -> float | None:
        """When (milliseconds) something happens of itself, if nothing else comes before."""
        return None if self._due is None else self._due.t

    @abstractmethod
    def _go_on(self, t: float) -> Iterator[Effect]:
        """Ask what is to be asked next, or finish."""

    @abstractmethod
    def _begin_to_wait(self, t: float) -> Iterator[Effect]:
        """Tell what is there to be answered from now on, when it has come on the screen."""

    @abstractmethod
    def _judge(self, group: list[Press]) -> Iterator[Effect]:
        """Judge the keys that went down together."""

    @abstractmethod
    def _respond_further(self, event: Event, t: float) -> Iterator[Effect]:
        """Take in an event that not every session knows."""

    @abstractmethod
    def _piano_found(self, t: float) -> Iterator[Effect]:
        """Go on with the piano that was found."""

    @abstractmethod
    def _piano_lost(self, t: float) -> Iterator[Effect]:
        """Go on without the piano that was lost."""

    @abstractmethod
    def _tuned(self, shift: int, t: float) -> Iterator[Effect]:
        """Go on with the piano whose middle C was pressed at `t`."""

    def _takes_keys(self) -> bool:
        """Return whether a key that goes down now answers what is asked."""
        return self.view.phase is Phase.ASKED

    def _stood_still(self) -> None:
        """Take in that the machine stood still for a while."""

    def _hints(self) -> int:
        """Return how much help is on what is asked, 0 to 3."""
        return 0

    # What falls due, and what happens

    def _fall_due(self, t: float) -> Iterator[Effect]:
        while self._due is not None and self._due.t <= t:
            due, self._due = self._due, None
            yield from due.action(due.t)

    def _respond(self, event: Event, t: float) -> Iterator[Effect]:
        match event:
            case Begin():
                yield from self._go_on(t)
            case OnScreen(showing):
                if showing == self.view.showing and self._asked_at is None:
                    yield from self._begin_to_wait(t)
            case KeyPressed() | KeyReleased():
                yield KeyMoved(t, event)
                yield from self._key_moved(event, t)
            case PianoFound():
                yield from self._settle(t)
                self._piano.connect(event)
                yield PianoChanged(t, "found", event)
                yield from self._piano_found(t)
            case PianoLost(port):
                yield from self._lose_piano(port, t)
            case StoodStill(ms):
                yield from self._stand_still(ms, t)
            case ReadLate(ms):
                yield MachineNoticed(t, "read late", ms)
            case Stop(why):
                yield from self._settle(t)
                yield from self._finish(why, t)
            case _:
                yield from self._respond_further(event, t)

    def _lose_piano(self, port: str, t: float) -> Iterator[Effect]:
        lost = self._piano.found
        if lost is None or lost.port != port:
            return
        yield from self._settle(t)
        yield self._piano_changed(t, "lost")
        self._piano.disconnect()
        yield from self._piano_lost(t)

    def _stand_still(self, ms: float, t: float) -> Iterator[Effect]:
        """End the session if the machine stood still for long."""
        yield from self._settle(t)
        yield MachineNoticed(t, "stood still", ms)
        if ms > LONG_STANDSTILL_MS:
            yield from self._finish("stood still", t)
        else:
            self._stood_still()

    def _finish(self, why: str, t: float) -> Iterator[Effect]:
        self._due = None
        yield self._show(self._finished())
        yield Ended(t, why)

    def _finished(self) -> Shown:
        """Return the last view."""
        return replace(self.view, phase=Phase.FINISHED)

    # Keys

    def _key_moved(self, event: KeyPressed | KeyReleased, t: float) -> Iterator[Effect]:
        """Add a key that goes down to the group that is being made, if something is asked."""
        key = self._piano.meant(event.key)
        if isinstance(event, KeyPressed) and key is not None:
            self._add_to_group(key, t)
        yield from ()

    def _add_to_group(self, key: int, t: float) -> None:
        again = any(press.key == key for press in self._group)
        asked = self._asked_at is not None and self._takes_keys()
        if not asked or again or t < self._shown():
            return
        self._group.append(Press(key, t))
        if self._due is None:
            self._due = Due(t + SETTLE_MS, self._settle)

    def _settle(self, t: float) -> Iterator[Effect]:
        """Judge the key group that is being made, if there is one."""
        group, self._group = self._group, []
        if not group:
            return
        self._due = None
        if self.view.tuning:
            yield from self._tune(group, t)
        else:
            yield from self._judge(group)

    # The piano

    def _tune(self, group: list[Press], t: float) -> Iterator[Effect]:
        tuning, port = self._piano.tune(group), self._piano.port
        press = tuning.press
        yield Answered(
            press.t, MIDDLE_C_CARD, tuning.verdict, press.key, press.t - self._shown(),
            self._attempt, self._hints(), "tuning",
        )  # fmt: skip
        if tuning.shift is None or port is None:
            self._attempt += 1
            yield self._show(replace(self.view, tuning_again=True))
            return
        yield self._piano_changed(t, "tuned")
        yield RememberPiano(port, tuning.shift)
        yield from self._tuned(tuning.shift, press.t)

    def _piano_changed(self, t: float, change: Literal["lost", "tuned"]) -> PianoChanged:
        assert self._piano.found is not None
        return PianoChanged(t, change, self._piano.found)

    # Small things

    def _show(self, view: Shown) -> Effect:
        self.view = view
        return Present(view)

    def _shown(self) -> float:
        """Return since when what is asked can be answered."""
        assert self._asked_at is not None
        return self._asked_at
