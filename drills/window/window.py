"""The window: draws what a scene gives and hands it what happens, one scene after another."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator
from typing import Protocol

import pygame

from drills.engrave.layer import Layer
from drills.engrave.theme import THEMES, Theme
from drills.piano import (
    NotePressed,
    NoteReleased,
    NotesReadLate,
    PianoEvent,
    PianoFound,
    PianoLost,
    PianoRefused,
    PianosToChoose,
    stable_name,
)
from drills.sessions import events
from drills.window.canvas import Canvas, rasterise
from drills.window.computer_keys import ComputerKeys
from drills.window.pages.choice import PianoChoice
from drills.window.read_out import ReadOut, read_out
from drills.window.scene import Command, Scene
from drills.window.speech import Speaker
from drills.window.suspend_detector import Standstill
from drills.window.termination import ending_at_once
from drills.window.tone import Tones
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY

PIANO_MOVED = pygame.event.custom_type()
IDLE_MS = 1000.0
"""How long the window sleeps at most: the piano's name is looked for once a second."""
_COMMANDS = {
    pygame.K_ESCAPE: Command.LEAVE,
    pygame.K_RETURN: Command.ENTER,
    pygame.K_KP_ENTER: Command.ENTER,
    pygame.K_SPACE: Command.SPACE,
    pygame.K_BACKSPACE: Command.BACK,
    pygame.K_TAB: Command.NOTES,
    pygame.K_UP: Command.UP,
    pygame.K_DOWN: Command.DOWN,
    pygame.K_LEFT: Command.LEFT,
    pygame.K_RIGHT: Command.RIGHT,
    pygame.K_F1: Command.BACK,
    pygame.K_F2: Command.UP,
    pygame.K_F3: Command.ENTER,
}
"""Keys that lie in the same place whatever the language, and play no note.

The function keys bring under a left hand what else lies on the right of the keyboard.
"""
_OCTAVES = {Command.RIGHT: 1, Command.LEFT: -1}
"""How the arrows move the computer's keys along the piano where a scene has no use for them."""


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
        """Return what happened since the last call; `now` is the monotonic clock in ns."""

    def choose(self, name: str) -> None:
        """Take one of several pianos."""


class Window:
    """Shows scenes, one after another, and gives them the keys, touches and notes that come."""

    def __init__(
        self,
        screen: pygame.Surface,
        piano: PlayedPiano,
        shift_of: Callable[[str], int | None],
    ) -> None:
        """Prepare the window.

        `shift_of` gives a piano's remembered shift by its name, None if it has none.
        """
        self._canvas = Canvas(screen)
        self._piano = piano
        self._shift_of = shift_of
        self.tones = Tones()
        """What sounds here; never louder than `tone.PEAK`."""
        self._standstill = Standstill()
        self._computer_keys = ComputerKeys()
        self._choice: PianoChoice | None = None
        self._found: PianoFound | None = None
        self._fingers: dict[object, int] = {}
        self._read: ReadOut | None = None
        self._open = True
        self.quiet = False
        """Whether the keyboard on the screen is silent."""
        self.theme: Theme = THEMES["paper"]
        """The look of everything that is shown from the next scene on."""
        self.speaker: Speaker | None = None
        """Reads out what is shown, if anybody wants it to."""

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of its pages in pixels."""
        return self._canvas.size

    @property
    def screen(self) -> pygame.Surface:
        """What is drawn on."""
        return self._canvas.screen

    @property
    def is_open(self) -> bool:
        """Whether the window has not been closed."""
        return self._open

    @property
    def piano_name(self) -> str | None:
        """The name of the connected piano, or None."""
        return None if self._piano.name is None else stable_name(self._piano.name)

    def show(self, scene: Scene) -> bool:
        """Show a scene until it is over; False if the window was closed meanwhile."""
        self._scene = scene
        self._likely: Iterator[Layer] = iter(())
        self._fingers.clear()
        self._canvas.forget()
        self._read = None
        if self._found is not None:
            self._feed_found(self._found)
        self._poll_piano()
        scene.take(events.Begin(), time.monotonic_ns())
        while self._open and not scene.over:
            self._draw()
            self._wait()
        if not scene.over:
            scene.take(events.Stop("closed"), time.monotonic_ns())
        return self._open

    # Time

    def _wait(self) -> None:
        """Wait until something happens or falls due, and pass it on."""
        happened = self._happened()
        stood_still = self._standstill.look()
        if stood_still is not None:
            self._scene.take(events.StoodStill(stood_still), time.monotonic_ns())
        for event in happened:
            self._take(event)
        # Time passes only as far as the piano has been heard: a key may be on its way.
        heard_until = time.monotonic_ns()
        self._poll_piano()
        self._scene.take(events.TimePassed(), heard_until)

    def _happened(self) -> list[pygame.event.Event]:
        """Return what has happened, at once if a page is to be gone on with."""
        if self._canvas.unfinished:
            return pygame.event.get()
        return self._engrave_ahead() or self._sleep()

    def _sleep(self) -> list[pygame.event.Event]:
        first = pygame.event.wait(max(1, round(min(IDLE_MS, self._until_due() + 0.5))))
        return [first, *pygame.event.get()]

    def _until_due(self) -> float:
        due_ns = self._scene.due_ns
        return IDLE_MS if due_ns is None else (due_ns - time.monotonic_ns()) / 1e6

    # Drawing

    def _draw(self) -> None:
        """Draw what has changed since the last frame, and say so to the scene."""
        if not self._canvas.can_be_read:
            return
        shown: PianoChoice | Scene = self._choice or self._scene
        laid = shown.layers(*self.size)
        if self._canvas.draw(laid, self.theme):
            self._read_out(laid, shown.in_focus)
        if self._canvas.unfinished or self._choice is not None:
            return
        if self._scene.drawn(time.monotonic_ns()):
            self._likely = self._in_look(self._scene.likely_layers())

    def _read_out(self, laid: list[Layer], focus: str) -> None:
        """Let be heard what is new on the page, once it is to be seen."""
        if self.speaker is None:
            return
        now = read_out(laid, focus)
        if words := now.since(self._read):
            self.speaker.say(words)
        self._read = now

    def _in_look(self, layers: Iterable[Layer]) -> Iterator[Layer]:
        for layer in layers:
            yield from self.theme.layers([layer])

    def _engrave_ahead(self) -> list[pygame.event.Event]:
        """Use the wait for the pupil to engrave what a key may show; give what ended it."""
        while self._until_due() > 0 and (layer := next(self._likely, None)) is not None:
            rasterise(layer)
            # Not peek(): it gives away a reference that the event in the queue still holds.
            if happened := pygame.event.get():
                return happened
        return []

    # What people do

    def _take(self, event: pygame.event.Event) -> None:
        match event.type:
            case pygame.QUIT:
                self._open = False
            case pygame.VIDEORESIZE:
                self._canvas.resized()
            case pygame.VIDEOEXPOSE:
                self._canvas.forget()
            case pygame.KEYDOWN:
                self._computer_key(event)
            case pygame.TEXTINPUT if self._scene.takes_letters:
                self._scene.typed(event.text)
            case pygame.KEYUP:
                self._lift(("computer", event.scancode))
            case pygame.MOUSEBUTTONDOWN if event.button == 1 and not event.touch:
                self._touch("mouse", self._canvas.on_page(event.pos))
            case pygame.MOUSEBUTTONUP if event.button == 1 and not event.touch:
                self._lift("mouse")
            case pygame.FINGERDOWN:
                width, height = self.screen.get_size()
                at = self._canvas.on_page((event.x * width, event.y * height))
                self._touch(("finger", event.finger_id), at)
            case pygame.FINGERUP:
                self._lift(("finger", event.finger_id))

    def _computer_key(self, event: pygame.event.Event) -> None:
        command = _COMMANDS.get(event.key)
        if command is not None:
            if not self._scene.command(command, time.monotonic_ns()):
                self._computer_keys.shift(_OCTAVES.get(command, 0))
            return
        key = self._computer_keys.key_of(event.scancode)
        if key is not None and not self._scene.takes_letters:
            self._strike(("computer", event.scancode), key)

    def _touch(self, finger: object, at: tuple[float, float]) -> None:
        if self._choice is not None:
            chosen = self._choice.piano_at(*at)
            if chosen is not None:
                self._piano.choose(chosen)
                self._poll_piano()
            return
        key = self._scene.key_at(*at)
        if key is not None:
            self._strike(finger, key)
        else:
            self._scene.touched(*at, time.monotonic_ns())

    def _strike(self, finger: object, key: int) -> None:
        """Play a key of the on-screen keyboard, as long as no piano is connected."""
        if self._piano.name is not None or not LOWEST_PIANO_KEY <= key <= HIGHEST_PIANO_KEY:
            return
        if finger in self._fingers:
            return
        self._fingers[finger] = key
        self._scene.take(events.KeyPressed(key), time.monotonic_ns())
        self._draw()
        if not self.quiet:
            self.tones.play(key)

    def _lift(self, finger: object) -> None:
        key = self._fingers.pop(finger, None)
        if key is not None:
            self._scene.take(events.KeyReleased(key), time.monotonic_ns())

    # The piano

    def _poll_piano(self) -> None:
        with ending_at_once():
            happened = self._piano.poll(time.monotonic_ns())
        for event in happened:
            self._take_piano(event)

    def _take_piano(self, event: PianoEvent) -> None:
        now = time.monotonic_ns()
        match event:
            case NotePressed(key, velocity, channel, at):
                self._scene.take(events.KeyPressed(key, velocity, channel), at)
            case NoteReleased(key, velocity, channel, at):
                self._scene.take(events.KeyReleased(key, velocity, channel), at)
            case PianoFound():
                self._choice, self._found = None, event
                self._fingers.clear()
                self._feed_found(event)
            case PianoLost(name):
                self._found = None
                self._scene.take(events.PianoLost(stable_name(name)), now)
            case PianoRefused(name):
                self._scene.take(events.PianoRefused(stable_name(name)), now)
            case NotesReadLate(ns):
                self._scene.take(events.ReadLate(ns / 1e6), now)
            case PianosToChoose(names):
                self._choice = PianoChoice(tuple(names), *self.size)

    def _feed_found(self, found: PianoFound) -> None:
        port = stable_name(found.name)
        event = events.PianoFound(port, found.clock, self._shift_of(port))
        self._scene.take(event, time.monotonic_ns())
