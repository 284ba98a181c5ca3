"""The practice scene: a session in the window, from its first card to its closing page."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from drills import events
from drills.card import Card, Kind
from drills.chooser import CardChooser
from drills.engrave.layer import Layer
from drills.log import Answered
from drills.recorder import SessionClock
from drills.response import State
from drills.session import Drill
from drills.view import Effect, Phase, Present, View, Write
from drills.window.page import PageSetting, closing_page, practice_page
from drills.window.scene import Command


class PracticeScene:
    """Passes events to the session, and carries out what it asks for."""

    def __init__(
        self,
        setting: PageSetting,
        drill: Drill,
        planner: CardChooser,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
    ) -> None:
        """Prepare a session; `carry_out` writes and remembers what it asks for."""
        self.over = False
        self._setting = setting
        self._drill = drill
        self._planner = planner
        self._clock = clock
        self._carry_out = carry_out
        self._found: set[int] = set()
        self._followed: set[int] = set()
        self._on_screen = 0
        self._laid: tuple[View, PageSetting, list[Layer]] | None = None

    @property
    def due_ns(self) -> int | None:
        """When something happens of itself, if nothing else comes before."""
        due = self._drill.due
        return None if due is None else self._clock.started_ns + round(due * 1e6)

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and carry out what comes of it."""
        for effect in self._drill.handle(event, (at_ns - self._clock.started_ns) / 1e6):
            if not isinstance(effect, Present):
                self._carry_out(effect)
                self._count(effect)

    def command(self, command: Command, at_ns: int) -> bool:
        """Escape ends the session, and then leaves."""
        if command is not Command.LEAVE:
            return False
        self._leave(at_ns)
        return True

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Leave the closing page at a touch."""
        if self._drill.view.phase is Phase.FINISHED:
            self._leave(at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """Give the key of the strip at a point, if there is one."""
        if self._drill.view.phase is Phase.FINISHED:
            return None
        return self._setting.strip(self._drill.view).key_at(x, y)

    def layers(self, width: int, height: int) -> list[Layer]:
        """Give the page of the moment."""
        if (width, height) != (self._setting.width, self._setting.height):
            self._setting = self._setting.resized(width, height)
        view = self._drill.view
        laid = self._laid
        if laid is None or laid[0] is not view or laid[1] is not self._setting:
            laid = self._laid = view, self._setting, self._page(view)
        return laid[2]

    def drawn(self, at_ns: int) -> bool:
        """Tell the session when a card has come on the screen."""
        view = self._drill.view
        if view.showing == self._on_screen:
            return False
        self._on_screen = view.showing
        self.take(events.OnScreen(view.showing), at_ns)
        return True

    def likely_layers(self) -> Iterator[Layer]:
        """Give the layers of what each key would show, the keys about the right one first."""
        view = self._drill.view
        if view.card is None:
            return
        strip = self._setting.strip(view)
        target = view.card.key
        keys = range(strip.lowest, strip.highest + 1)
        for key in sorted(keys, key=lambda key: abs(key - target)):
            yield from practice_page(self._drill.preview(key), self._setting)

    def _page(self, view: View) -> list[Layer]:
        if view.phase is Phase.FINISHED:
            lines = len(self._followed)
            return closing_page(self._states(), len(self._found), self._setting, lines)
        return practice_page(view, self._setting)

    def _leave(self, at_ns: int) -> None:
        if self._drill.view.phase is Phase.FINISHED:
            self.over = True
        else:
            self.take(events.Stop(), at_ns)

    def _count(self, effect: Effect) -> None:
        record = effect.record if isinstance(effect, Write) else None
        if isinstance(record, Answered) and record.verdict == "exact":
            found = self._found if record.move is None else self._followed
            found.add(self._drill.view.showing)

    def _states(self) -> dict[Card, State]:
        now = self._clock.now()
        on_stave = (card for card in self._setting.cards if card.kind is not Kind.KEY)
        return {card: self._planner.standing(card, now).state for card in on_stave}
