"""The warm-up while it runs: the pupil's card, the teacher's single keys and her notes."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import replace

from drills.app.session_clock import SessionClock
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, text
from drills.learning.warm_up import WarmUp
from drills.sessions import events
from drills.sessions.effects import Answered, Effect
from drills.sessions.practice import Drill
from drills.sessions.view import Phase
from drills.text.formatting import decimal
from drills.text.verdict_text import SLIPS, WHY_NOT
from drills.window.pages.buttons import Button, button_at, drawn_button
from drills.window.pages.card_page import PageSetting
from drills.window.pages.practice_scene import PracticeScene
from drills.window.scene import Command
from landmarks.names import Naming
from landmarks.pitch import Pitch
from landmarks.translation import _, gettext_noop

NOTES_KEPT = 6
_NOT_NOTED = ("brushed", "later attempt", "tuning")

_SINGLE_KEYS: dict[Command, tuple[str, str, events.Event]] = {
    Command.BACK: (gettext_noop("again"), gettext_noop("Backspace"), events.AskAgain()),
    Command.SPACE: (gettext_noop("on"), gettext_noop("Space"), events.Skip()),
    Command.UP: (gettext_noop("hint"), "↑", events.Hint()),
    Command.ENTER: (gettext_noop("answer"), gettext_noop("Enter"), events.Tell()),
    Command.LEAVE: (gettext_noop("stop"), gettext_noop("Esc"), events.Stop()),
}


class WarmUpScene:
    """A session whose cards the teacher can ask again, skip, help with, answer and stop."""

    takes_letters = False
    in_focus = ""

    def __init__(
        self,
        setting: PageSetting,
        drill: Drill,
        warm_up: WarmUp,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
    ) -> None:
        """Prepare a warm-up; `carry_out` writes and remembers what its session asks for."""
        self._drill = drill
        self._naming = setting.naming
        self._large = setting.large
        self._carry_out = carry_out
        self._practice = PracticeScene(setting, drill, warm_up, clock, self._heard)
        self._noted: deque[tuple[str, str]] = deque(maxlen=NOTES_KEPT)
        self._asked, self._at_once = 0, 0
        self._notes_shown = False
        self._size = (0, 0)

    @property
    def over(self) -> bool:
        """Whether the last card is done."""
        return self._drill.view.phase is Phase.FINISHED

    @property
    def due_ns(self) -> int | None:
        """When something happens of itself, if nothing else comes before."""
        return self._practice.due_ns

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session."""
        self._practice.take(event, at_ns)

    def command(self, command: Command, at_ns: int) -> bool:
        """Do what a single key stands for."""
        if command is Command.NOTES:
            self._notes_shown = not self._notes_shown
            # Beside a large stave the teacher's notes would have no room.
            self._practice.show_large(self._large and not self._notes_shown)
        elif command in _SINGLE_KEYS:
            self.take(_SINGLE_KEYS[command][2], at_ns)
        else:
            return False
        return True

    def typed(self, letters: str) -> None:
        """Letters play notes here."""

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Press one of the keys that are written beside the card with the notes."""
        button = button_at(self._buttons(), x, y) if self._notes_shown else None
        if button is not None:
            self.command(Command[button.action], at_ns)

    def key_at(self, x: float, y: float) -> int | None:
        """Return the key of the strip at a point, if there is one."""
        return self._practice.key_at(x, y)

    def layers(self, width: int, height: int) -> list[Layer]:
        """Return the pupil's page, and the teacher's notes beside its card if she wants them."""
        self._size = width, height
        layers = self._practice.layers(width, height)
        if not self._notes_shown:
            return layers
        # They are the teacher's: nobody reads a pupil's times out to her.
        return [*layers, *(replace(layer, words="") for layer in self._notes())]

    def drawn(self, at_ns: int) -> bool:
        """Tell the session when a card has come on the screen."""
        return self._practice.drawn(at_ns)

    def likely_layers(self) -> Iterator[Layer]:
        """Return the layers of what each key would show."""
        return self._practice.likely_layers()

    def _heard(self, effect: Effect) -> None:
        self._carry_out(effect)
        if not isinstance(effect, Answered) or effect.why_not in _NOT_NOTED:
            return
        self._noted.appendleft(_note(effect, self._naming))
        if effect.counted:
            self._asked += 1
            self._at_once += effect.right

    def _notes(self) -> Iterator[Layer]:
        for button in self._buttons():
            yield from drawn_button(button, focused=False)
        width, height = self._size
        column = _column(width, height, right=True)
        middle, size = column.x + column.width / 2, height * 0.03
        y = float(column.y + size)
        if self._asked:
            yield text(
                _("{found} of {asked} at once").format(found=self._at_once, asked=self._asked),
                middle,
                y,
                size,
                palette.INK,
                column.width,
            )
        for name, detail in self._noted:
            y += 2.5 * size
            yield text(name, middle, y, size, palette.INK, column.width)
            yield text(detail, middle, y + size, 0.8 * size, palette.PENCIL, column.width)

    def _buttons(self) -> list[Button]:
        column = _column(*self._size, right=False)
        every = column.height / (len(_SINGLE_KEYS) + 1)
        tall = round(every * 0.8)
        return [
            Button(
                command.name, f"{_(key)}: {_(words)}",
                Box(column.x, round(column.y + place * every), column.width, tall), size=0.36,
            )
            for place, (command, (words, key, _event)) in enumerate(_SINGLE_KEYS.items())
        ]  # fmt: skip


def _note(answer: Answered, naming: Naming) -> tuple[str, str]:
    card = answer.card
    if not answer.right:
        meaning, played = _(SLIPS[answer.verdict]), naming.of(Pitch.of_key(answer.played))
        return card.named(naming), f"{meaning}: {played}"
    if answer.why_not is not None:
        return card.named(naming), _(WHY_NOT.get(answer.why_not, answer.why_not))
    return card.named(naming), _("{seconds} s").format(seconds=decimal(answer.ms / 1000))


def _column(width: int, height: int, *, right: bool) -> Box:
    margin = height // 40
    across = round(min(0.155 * width, 0.26 * height))
    left = width - 2 * margin - across if right else 2 * margin
    return Box(left, 2 * margin, across, round(height * 0.55))
