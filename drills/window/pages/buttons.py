"""Pages of buttons: pressed by mouse or finger, or reached with the arrow keys and Enter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import hypot

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.sessions import events
from drills.window.pages.marks import drawn_mark
from drills.window.scene import Command
from landmarks.translation import _

_WAYS = {
    Command.LEFT: (-1, 0),
    Command.RIGHT: (1, 0),
    Command.UP: (0, -1),
    Command.DOWN: (0, 1),
}
_ASIDE = 3.0
"""How much further a button seems that lies beside the way of the arrow key."""


@dataclass(frozen=True)
class Button:
    """Words in a box, and the name of what they do; `chosen` ones are filled with ink."""

    action: str
    words: str
    box: Box
    chosen: bool = False
    size: float = 0.42
    """Of the words, as a share of the box's height."""
    outline: str = ""
    """A mark (SVG path data) above the words, or before them where the box is wide."""
    about: str = ""
    """What the words answer, if they say too little by themselves when they are read out."""

    @property
    def read_out(self) -> str:
        """What is to be heard of the button when it comes into focus."""
        words = _("{words}, chosen").format(words=self.words) if self.chosen else self.words
        return f"{words}, {self.about}" if self.about else words

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the box."""
        return self.box.x + self.box.width / 2, self.box.y + self.box.height / 2


def corner(width: int, height: int, right: bool) -> Box:
    """Return the box of a small button in a lower corner of a page."""
    margin, tall, across = height // 40, round(height * 0.072), round(height * 0.24)
    left = width - margin - across if right else margin
    return Box(left, height - margin - tall, across, tall)


def button_at(buttons: Iterable[Button], x: float, y: float) -> Button | None:
    """Return the button at a point, if there is one."""
    return next((button for button in buttons if button.box.holds(x, y)), None)


def next_button(buttons: Iterable[Button], now: Button, command: Command) -> Button:
    """Return the button that an arrow key leads to from `now`, or `now` at the edge.

    One straight on is taken before one that lies aside, however near that is.
    """
    across, down = _WAYS[command]
    x, y = now.middle

    def along(button: Button) -> float:
        return (button.middle[0] - x) * across + (button.middle[1] - y) * down

    def aside(button: Button) -> float:
        return abs((button.middle[0] - x) * down) + abs((button.middle[1] - y) * across)

    reachable = [button for button in buttons if along(button) > 1]
    straight = [button for button in reachable if _straight(now.box, button.box, across)]
    if straight:
        return min(straight, key=lambda button: (along(button), aside(button)))
    return min(
        reachable, key=lambda button: hypot(along(button), _ASIDE * aside(button)), default=now
    )


def _straight(one: Box, other: Box, across: int) -> bool:
    """Return whether two boxes overlap when seen along the way of an arrow key."""
    if across:
        return one.y < other.bottom and other.y < one.bottom
    return one.x < other.right and other.x < one.right


def drawn_button(button: Button, focused: bool) -> Iterator[Layer]:
    """Draw a button, with a frame around the one that Enter would press.

    Its words are not among those of the page that are read out: it has to come into focus.
    """
    for layer in _button_layers(button, focused):
        yield replace(layer, words="")


def _button_layers(button: Button, focused: bool) -> Iterator[Layer]:
    box = button.box
    edge = max(1, round(button.size * box.height / 12))
    if focused:
        yield rectangle(_grown(box, 3 * edge), palette.ACCENT)
        yield rectangle(_grown(box, edge), palette.PAPER)
    yield rectangle(box, palette.PENCIL)
    yield rectangle(_grown(box, -edge), palette.INK if button.chosen else palette.CARD)
    size = button.size * box.height
    colour = palette.CARD if button.chosen else palette.INK
    if not button.outline:
        x, y = button.middle
        yield text(button.words, x, y + 0.36 * size, size, colour, within=0.9 * box.width)
        return
    mark, words = _mark_and_words(button)
    yield drawn_mark(button.outline, mark, colour)
    middle, baseline = words.x + words.width / 2, words.y + words.height / 2 + 0.36 * size
    yield text(button.words, middle, baseline, size, colour, within=words.width)


def _mark_and_words(button: Button) -> tuple[Box, Box]:
    """Return the boxes of a button's mark and of its words."""
    box = button.box
    if box.width > 2 * box.height:
        edge = box.height // 6
        side = box.height - 2 * edge
        left = box.x + 2 * edge + side
        return (
            Box(box.x + edge, box.y + edge, side, side),
            Box(left + edge, box.y, box.right - left - 2 * edge, box.height),
        )
    room, edge = round(1.5 * button.size * box.height), box.height // 10
    mark = Box(box.x + edge, box.y + edge, box.width - 2 * edge, box.height - 2 * edge - room)
    return mark, Box(box.x + edge // 2, mark.bottom + edge // 2, box.width - edge, room)


def _grown(box: Box, by: int) -> Box:
    return Box(box.x - by, box.y - by, box.width + 2 * by, box.height + 2 * by)


class ButtonScene:
    """A scene that is a page of buttons; what they are and do is for each page to say."""

    due_ns: int | None = None
    takes_letters = True

    def __init__(self, focus: str) -> None:
        """Prepare the page; `focus` is the action that Enter stands for at first."""
        self.over = False
        self.focus = focus
        self._size = (0, 0)

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the buttons in a window of this size."""
        raise NotImplementedError

    def page(self, width: int, height: int) -> list[Layer]:
        """Return what lies under the buttons."""
        raise NotImplementedError

    def act(self, action: str) -> None:
        """Do what a button stands for."""
        raise NotImplementedError

    def leave(self) -> None:
        """Do what Escape stands for."""
        self.over = True

    @property
    def in_focus(self) -> str:
        """What the button in focus says."""
        buttons = self.buttons(*self._size)
        return next((b.read_out for b in buttons if b.action == self.focus), "")

    def take(self, event: events.Event, at_ns: int) -> None:
        """Notes and pianos mean nothing on a page of buttons."""

    def command(self, command: Command, at_ns: int) -> bool:
        """Move with the arrows, press with Enter or the space bar, leave with Escape."""
        match command:
            case Command.LEAVE:
                self.leave()
            case Command.ENTER | Command.SPACE:
                self.act(self.focus)
            case Command.LEFT | Command.RIGHT | Command.UP | Command.DOWN:
                self._move(command)
            case _:
                return False
        return True

    def typed(self, letters: str) -> None:
        """Letters mean nothing on most pages of buttons."""

    def touched(self, x: float, y: float, at_ns: int) -> None:
        """Press the button at a point."""
        button = button_at(self.buttons(*self._size), x, y)
        if button is not None:
            self.focus = button.action
            self.act(button.action)

    def key_at(self, x: float, y: float) -> int | None:
        """There is no keyboard strip."""
        return None

    def layers(self, width: int, height: int) -> list[Layer]:
        """Return the page with its buttons."""
        self._size = width, height
        layers = self.page(width, height)
        for button in self.buttons(width, height):
            layers += drawn_button(button, button.action == self.focus)
        return layers

    def drawn(self, at_ns: int) -> bool:
        """Nothing is timed here."""
        return False

    def likely_layers(self) -> Iterator[Layer]:
        """Nothing is engraved ahead."""
        return iter(())

    def _move(self, command: Command) -> None:
        buttons = self.buttons(*self._size)
        now = next((b for b in buttons if b.action == self.focus), buttons[0])
        self.focus = next_button(buttons, now, command).action
