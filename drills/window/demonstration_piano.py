"""A piano that a simulated pupil plays, in real time, into the real window."""

from __future__ import annotations

import threading
from collections import deque

from drills.piano import NotePressed, NoteReleased, PianoEvent
from drills.sessions.practice import Drill
from drills.sessions.view import Phase
from drills.simulation.demonstration import HELD_MS, DemonstrationPupil
from drills.window.window import wake_window
from landmarks.translation import gettext_noop


class DemonstrationPiano:
    """Stands where the connected piano stands, and presses keys as the pupil decides."""

    name = gettext_noop("simulated pupil")

    def __init__(self, drill: Drill, pupil: DemonstrationPupil, started_ns: int) -> None:
        """Prepare to answer the cards of `drill`, from `started_ns` (monotonic ns) on."""
        self._drill = drill
        self._pupil = pupil
        self._coming: deque[NotePressed | NoteReleased] = deque()
        self._free_at = started_ns
        self._showing, self._attempt = 0, 1

    def poll(self, now: int) -> list[PianoEvent]:
        """Return the keys that have moved by `now` (monotonic ns)."""
        happened: list[PianoEvent] = []
        while self._coming and self._coming[0].at <= now:
            happened.append(self._coming.popleft())
        view = self._drill.view
        if not self._coming and now >= self._free_at and view.phase is Phase.ASKED and view.card:
            self._decide(now)
        return happened

    def choose(self, name: str) -> None:
        """There is nothing to choose from."""

    def close(self) -> None:
        """Play no more."""
        self._coming.clear()

    def _decide(self, now: int) -> None:
        view = self._drill.view
        self._attempt = self._attempt + 1 if view.showing == self._showing else 1
        self._showing = view.showing
        touch = self._pupil.touch(view, self._attempt)
        down = now + int(touch.seconds * 1e9)
        up = down + int(HELD_MS * 1e6)
        self._coming.extend(NotePressed(key, 64, 1, down) for key in touch.keys)
        self._coming.extend(NoteReleased(key, 0, 1, up) for key in touch.keys)
        self._free_at = up + 100_000_000
        for moment in (down, up, self._free_at):
            timer = threading.Timer((moment - now) / 1e9 + 0.002, wake_window)
            timer.daemon = True
            timer.start()
