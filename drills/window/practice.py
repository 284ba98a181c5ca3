"""The practice window: passes events to the session, and carries out what it asks for."""

from __future__ import annotations

import io
import os
import time
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Protocol

import pygame

from drills import events
from drills.card import Card, Kind
from drills.engrave.layer import Layer
from drills.log import Answered
from drills.piano import (
    NotePressed,
    NoteReleased,
    PianoEvent,
    PianoFound,
    PianoLost,
    PianosToChoose,
    stable_name,
)
from drills.recorder import SessionClock
from drills.response import State
from drills.session import CardChooser, Drill
from drills.view import Effect, Phase, Present, View, Write
from drills.window import computer_keys
from drills.window.page import PageSetting, choice_page, closing_page, practice_page
from drills.window.tone import Tones
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY

PIANO_MOVED = pygame.event.custom_type()
IDLE_MS = 1000
"""How long the window sleeps at most: the piano's name is looked for once a second."""
OCTAVE = 12
_SURFACES_KEPT = 1000
_NO_SCREEN = ("offscreen", "dummy", "evdev")
"""What SDL falls back on where there is nothing to see it on."""


class NoScreenError(RuntimeError):
    """There is no screen to open a window on."""


def open_screen(size: tuple[int, int] | None, full_screen: bool) -> pygame.Surface:
    """Open the window: `size` in pixels, or most of the desktop. NoScreenError if it cannot."""
    try:
        pygame.display.init()
        if pygame.display.get_driver() in _NO_SCREEN and "SDL_VIDEODRIVER" not in os.environ:
            raise pygame.error("no display")
        pygame.display.set_caption("landmark-drills")
        if full_screen:
            return pygame.display.set_mode((0, 0), pygame.FULLSCREEN)
        return pygame.display.set_mode(size or _comfortable_size(), pygame.RESIZABLE)
    except pygame.error as error:
        raise NoScreenError(
            f"no screen to open a window on ({error}); to see the drill at work without one, run "
            "landmark-drills demonstrate --headless"
        ) from None


def _comfortable_size() -> tuple[int, int]:
    width, height = pygame.display.get_desktop_sizes()[0]
    tall = min(height, round(width * 0.75)) * 0.85
    return round(min(width * 0.95, tall * 4 / 3)), round(tall)


def wake_window() -> None:
    """Wake the window from another thread: something arrived from the piano."""
    if pygame.display.get_init():
        pygame.event.post(pygame.event.Event(PIANO_MOVED))


class PlayedPiano(Protocol):
    """What the window needs of a piano."""

    @property
    def name(self) -> str | None:
        """The name of the connected piano, or None."""

    def poll(self, now: int) -> list[PianoEvent]:
        """Give what happened since the last call; `now` is the monotonic clock in ns."""

    def choose(self, name: str) -> None:
        """Take one of several pianos."""


class PracticeWindow:
    """One session in one window."""

    def __init__(
        self,
        screen: pygame.Surface,
        setting: PageSetting,
        drill: Drill,
        planner: CardChooser,
        piano: PlayedPiano,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
        shift_of: Callable[[str], int | None],
    ) -> None:
        """Prepare the window.

        `carry_out` writes and remembers what the session asks for; `shift_of` gives a piano's
        remembered shift by its name, None if it has none.
        """
        self._screen = screen
        self._setting = setting
        self._drill = drill
        self._planner = planner
        self._piano = piano
        self._clock = clock
        self._carry_out = carry_out
        self._shift_of = shift_of
        self._tones = Tones()
        self._lowest_c = computer_keys.STARTING_C
        self._choices: tuple[str, ...] = ()
        self._fingers: dict[object, int] = {}
        self._found: set[int] = set()
        self._stale = True
        self._drawn: list[Layer] = []
        self._likely: Iterator[Layer] = iter(())
        self._open = True
        self._on_screen = 0

    def run(self) -> None:
        """Practise until the window is closed."""
        self._poll_piano()
        self._feed(events.Begin())
        while self._open:
            self._draw()
            self._wait()
        if self._drill.view.phase is not Phase.FINISHED:
            self._feed(events.Stop("closed"))

    # Time

    def _milliseconds(self, at_ns: int | None = None) -> float:
        now = time.monotonic_ns() if at_ns is None else at_ns
        return (now - self._clock.started_ns) / 1e6

    def _wait(self) -> None:
        """Sleep until something happens or falls due, and pass it on."""
        for event in self._engrave_ahead() or self._sleep():
            self._take(event)
        # Time passes only as far as the piano has been heard: a key may be on its way.
        heard_until = time.monotonic_ns()
        self._poll_piano()
        self._feed(events.TimePassed(), heard_until)

    def _sleep(self) -> list[pygame.event.Event]:
        first = pygame.event.wait(max(1, min(IDLE_MS, round(self._until_due() + 0.5))))
        return [first, *pygame.event.get()]

    def _until_due(self) -> float:
        due = self._drill.due
        return IDLE_MS if due is None else due - self._milliseconds()

    def _feed(self, event: events.Event, at_ns: int | None = None) -> None:
        for effect in self._drill.handle(event, self._milliseconds(at_ns)):
            if isinstance(effect, Present):
                self._stale = True
            else:
                self._carry_out(effect)
                self._count(effect)

    def _count(self, effect: Effect) -> None:
        record = effect.record if isinstance(effect, Write) else None
        if isinstance(record, Answered) and record.verdict == "exact":
            self._found.add(self._drill.view.showing)

    # Drawing

    def _draw(self) -> None:
        """Draw what has changed since the last frame, and say when a new card is on the screen."""
        if not self._stale:
            return
        self._stale = False
        view = self._drill.view
        layers = self._layers(view)
        changed = [_rect(layer) for layer in set(layers) ^ set(self._drawn)]
        for rect in changed:
            self._redraw(layers, rect)
        self._drawn = layers
        pygame.display.update(changed)
        if view.showing != self._on_screen and not self._choices:
            self._on_screen = view.showing
            self._likely = self._likely_layers(view)
            self._feed(events.OnScreen(view.showing))

    def _redraw(self, layers: Iterable[Layer], rect: pygame.Rect) -> None:
        self._screen.set_clip(rect)
        for layer in layers:
            if not rect.colliderect(_rect(layer)):
                continue
            if layer.plain_colour is not None:
                self._screen.fill(layer.plain_colour, _rect(layer))
            else:
                self._screen.blit(_surface(layer), (layer.box.x, layer.box.y))
        self._screen.set_clip(None)

    def _engrave_ahead(self) -> list[pygame.event.Event]:
        """Use the wait for the pupil to engrave what a key may show; give what ended it."""
        while self._until_due() > 0 and (layer := next(self._likely, None)) is not None:
            if layer.plain_colour is None:
                _surface(layer)
            # Not peek(): it gives away a reference that the event in the queue still holds.
            if happened := pygame.event.get():
                return happened
        return []

    def _likely_layers(self, view: View) -> Iterator[Layer]:
        """Give the layers of what each key would show, the keys about the right one first."""
        if view.card is None:
            return
        strip = self._setting.strip(view)
        target = view.card.key
        keys = range(strip.lowest, strip.highest + 1)
        for key in sorted(keys, key=lambda key: abs(key - target)):
            yield from practice_page(self._drill.preview(key), self._setting)

    def _layers(self, view: View) -> list[Layer]:
        if view.phase is Phase.FINISHED:
            return closing_page(self._states(), len(self._found), self._setting)
        if self._choices:
            return choice_page(self._choices, self._setting)
        return practice_page(view, self._setting)

    def _states(self) -> dict[Card, State]:
        now = self._clock.now()
        on_stave = (card for card in self._setting.cards if card.kind is not Kind.KEY)
        return {card: self._planner.standing(card, now).state for card in on_stave}

    # What the pupil does

    def _take(self, event: pygame.event.Event) -> None:
        match event.type:
            case pygame.QUIT:
                self._open = False
            case pygame.VIDEORESIZE:
                self._screen = pygame.display.get_surface() or self._screen
                self._setting = self._setting.resized(event.w, event.h)
                self._drawn, self._stale = [], True
            case pygame.VIDEOEXPOSE:
                self._drawn, self._stale = [], True
            case pygame.KEYDOWN:
                self._computer_key(event)
            case pygame.KEYUP:
                self._lift(("computer", event.scancode))
            case pygame.MOUSEBUTTONDOWN if event.button == 1 and not event.touch:
                self._touch("mouse", event.pos)
            case pygame.MOUSEBUTTONUP if event.button == 1 and not event.touch:
                self._lift("mouse")
            case pygame.FINGERDOWN:
                at = (event.x * self._setting.width, event.y * self._setting.height)
                self._touch(("finger", event.finger_id), at)
            case pygame.FINGERUP:
                self._lift(("finger", event.finger_id))

    def _computer_key(self, event: pygame.event.Event) -> None:
        if event.key == pygame.K_ESCAPE:
            self._leave()
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            change = OCTAVE if event.key == pygame.K_RIGHT else -OCTAVE
            lowest, highest = computer_keys.LOWEST_C, computer_keys.HIGHEST_C
            self._lowest_c = min(highest, max(lowest, self._lowest_c + change))
        else:
            key = computer_keys.key_of(event.scancode, self._lowest_c)
            if key is not None:
                self._strike(("computer", event.scancode), key)

    def _leave(self) -> None:
        if self._drill.view.phase is Phase.FINISHED:
            self._open = False
        else:
            self._feed(events.Stop())

    def _touch(self, finger: object, at: tuple[float, float]) -> None:
        if self._choices:
            self._choose(at)
            return
        if self._drill.view.phase is Phase.FINISHED:
            self._open = False
            return
        key = self._setting.strip(self._drill.view).key_at(*at)
        if key is not None:
            self._strike(finger, key)

    def _choose(self, at: tuple[float, float]) -> None:
        chosen = self._setting.choice_at(self._choices, *at)
        if chosen is not None:
            self._piano.choose(chosen)
            self._poll_piano()

    def _strike(self, finger: object, key: int) -> None:
        """Play a key of the on-screen keyboard, as long as no piano is connected."""
        if self._piano.name is not None or not LOWEST_PIANO_KEY <= key <= HIGHEST_PIANO_KEY:
            return
        if finger in self._fingers:
            return
        self._fingers[finger] = key
        self._feed(events.KeyPressed(key))
        self._draw()
        self._tones.play(key)

    def _lift(self, finger: object) -> None:
        key = self._fingers.pop(finger, None)
        if key is not None:
            self._feed(events.KeyReleased(key))

    # The piano

    def _poll_piano(self) -> None:
        for event in self._piano.poll(time.monotonic_ns()):
            self._take_piano(event)

    def _take_piano(self, event: PianoEvent) -> None:
        match event:
            case NotePressed(key, velocity, channel, at):
                self._feed(events.KeyPressed(key, velocity, channel), at)
            case NoteReleased(key, velocity, channel, at):
                self._feed(events.KeyReleased(key, velocity, channel), at)
            case PianoFound(name, clock):
                self._choices = ()
                self._fingers.clear()
                port = stable_name(name)
                self._feed(events.PianoFound(port, clock, self._shift_of(port)))
            case PianoLost(name):
                self._feed(events.PianoLost(stable_name(name)))
            case PianosToChoose(names):
                self._choices = tuple(names)
        self._stale = True


@lru_cache(_SURFACES_KEPT)
def _surface(layer: Layer) -> pygame.Surface:
    return pygame.image.load(io.BytesIO(layer.png()), "layer.png").convert_alpha()


def _rect(layer: Layer) -> pygame.Rect:
    return pygame.Rect(layer.box.x, layer.box.y, layer.box.width, layer.box.height)
