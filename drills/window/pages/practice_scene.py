"""The practice scene: a session in the window, from its first card to its closing page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from enum import Enum, auto

from drills.app.session_clock import SessionClock
from drills.cards.card import Card, Kind
from drills.engrave.layer import Layer
from drills.learning.response import Standing, State
from drills.learning.scheduler import Scheduler
from drills.sessions import events
from drills.sessions.effects import Answered, Effect
from drills.sessions.practice import Drill
from drills.sessions.view import Phase, View
from drills.window.fade_in import FIRST, FadeIn
from drills.window.pages import practice_buttons
from drills.window.pages.buttons import Button, button_at, drawn_button
from drills.window.pages.card_page import PageSetting, note_found, practice_page
from drills.window.pages.closing import Today, closing_page
from drills.window.pages.exercise import ExerciseScene
from drills.window.scene import Command
from landmarks.stave import Clef


class Wish(Enum):
    """What a pupil wants after a session."""

    STOP = auto()
    GO_ON = auto()
    THIS_CLEF = auto()
    """Notes of one clef alone, for today."""


class PracticeScene(ExerciseScene[View]):
    """Passes events to the session, and carries out what it asks for."""

    def __init__(
        self,
        setting: PageSetting,
        drill: Drill,
        planner: Scheduler,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
    ) -> None:
        """Prepare a session; `carry_out` writes and remembers what it asks for."""
        super().__init__(clock)
        self._setting = setting
        self._drill = drill
        self._planner = planner
        self._carry_out = carry_out
        self._found: set[int] = set()
        self._followed: set[int] = set()
        self._before = self._standings()
        self._inking = FadeIn()
        self._size = (setting.width, setting.height)
        self.wish = Wish.STOP
        self.only: Clef | None = None
        """The clef that is wished for, with `Wish.THIS_CLEF`."""

    @property
    def view(self) -> View:
        """What the session shows now."""
        return self._drill.view

    @property
    def due(self) -> float | None:
        """When something happens of itself, in milliseconds since the start."""
        return self._drill.due

    @property
    def due_ns(self) -> int | None:
        """When something happens of itself: in the session, or to the ink of a found note."""
        moments = (super().due_ns, self._inking.due_ns)
        return min((at for at in moments if at is not None), default=None)

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and carry out what comes of it."""
        for effect in self._drill.handle(event, self.milliseconds(at_ns)):
            self._carry_out(effect)
            self._count(effect)
        if self._setting.motion and self._inking.pass_time(note_found(self.view), at_ns):
            self._laid = None

    def command(self, command: Command, at_ns: int) -> bool:
        """Enter on the closing page goes on with another round; Escape ends and then leaves."""
        if self.finished and command in (Command.ENTER, Command.SPACE):
            self._act(practice_buttons.GO_ON, at_ns)
            return True
        return super().command(command, at_ns)

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Press the button at a point: go on, enough, or only this clef."""
        button = button_at(self._buttons(), x, y)
        if button is not None:
            self._act(button.action, at_ns)

    def _act(self, action: str, at_ns: int) -> None:
        match action:
            case practice_buttons.GO_ON:
                self.wish = Wish.GO_ON
            case practice_buttons.THIS_CLEF:
                card = self.view.card
                self.only = None if card is None else card.clef
                self.wish = Wish.THIS_CLEF
        self.leave(at_ns)
        if self.wish is Wish.THIS_CLEF and self.finished:
            self.over = True

    def _buttons(self) -> list[Button]:
        width, height = self._size
        if self.finished:
            return practice_buttons.at_the_end(width, height)
        return practice_buttons.beside_the_card(self.view, self._setting)

    def key_at(self, x: float, y: float) -> int | None:
        """Return the key of the strip at a point, if there is one."""
        return None if self.finished else self._setting.strip(self.view).key_at(x, y)

    def likely_layers(self) -> Iterator[Layer]:
        """Return the layers of what each key would show, the keys about the right one first."""
        view = self.view
        if view.card is None:
            return
        first = FIRST if self._setting.motion else 1.0
        strip = self._setting.strip(view)
        target = view.card.key
        keys = range(strip.lowest, strip.highest + 1)
        for key in sorted(keys, key=lambda key: abs(key - target)):
            yield from practice_page(self._drill.preview(key), self._setting, first)

    def show_large(self, large: bool) -> None:
        """Lay out the page large or as usual from now on."""
        self._setting = replace(self._setting, large=large)
        self._laid = None

    def page(self, view: View, width: int, height: int) -> list[Layer]:
        """Lay out the card of the moment, or the closing page."""
        self._setting = self._setting.resized(width, height)
        self._size = width, height
        buttons = [layer for button in self._buttons() for layer in drawn_button(button, False)]
        return [*self._page(view), *buttons]

    def _page(self, view: View) -> list[Layer]:
        if view.phase is Phase.FINISHED:
            found, followed = len(self._found), len(self._followed)
            after = self._standings()
            today = Today(
                _states(self._before), _states(after), found, followed,
                _nearness(self._before), _nearness(after),
            )  # fmt: skip
            return closing_page(today, self._setting)
        inked = self._inking.share if self._setting.motion else 1.0
        return practice_page(view, self._setting, inked)

    def _count(self, effect: Effect) -> None:
        if isinstance(effect, Answered) and effect.right:
            found = self._found if effect.move is None else self._followed
            found.add(self.view.showing)

    def _standings(self) -> dict[Card, Standing]:
        now = self._clock.now()
        on_stave = (card for card in self._setting.cards if card.kind is not Kind.KEY)
        return {card: self._planner.standing(card, now) for card in on_stave}


def _states(standings: dict[Card, Standing]) -> dict[Card, State]:
    return {card: standing.state for card, standing in standings.items()}


def _nearness(standings: dict[Card, Standing]) -> dict[Card, float]:
    return {card: standing.nearness for card, standing in standings.items()}
