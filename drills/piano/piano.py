"""The piano on which the pupil plays: found, lost, found again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from drills.piano.connection import Connection
from drills.piano.driver import ClockName, Driver, NoMidiError
from drills.piano.find_driver import find_driver
from drills.piano.messages import Note, NotePressed
from drills.piano.ports import Port, choose, describe, find, usable_names
from landmarks.translation import _

CHECK_EVERY = 1_000_000_000  # ns between two looks at the names of the ports
RETRY_EVERY = 5_000_000_000  # ns between two attempts to reach a MIDI system that did not answer
# Of so many ports at once it is heard which one is played: each takes a client of the MIDI system,
# of which JACK and ALSA have 64 (measured, and from memory) for all programs together.
MOST_HEARD = 24
# So many are opened at each look at the names, and as many give way to others where there are more:
# each takes some milliseconds, on a busy machine up to a second (measured, JACK).
OPENED_AT_ONCE = 6


@dataclass(frozen=True, slots=True)
class PianoFound:
    """A piano is connected; `clock` says whose times its notes carry.

    `name` is the port's full name; `stable_name` gives what of it may be remembered.
    """

    name: str
    clock: ClockName


@dataclass(frozen=True, slots=True)
class PianoLost:
    """The piano is no longer connected."""

    name: str


@dataclass(frozen=True, slots=True)
class PianosToChoose:
    """Several are there: the first on which a key is pressed, or that is chosen, is taken."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PianoRefused:
    """The piano is there and cannot be opened, as when another program has it; told once."""

    name: str


@dataclass(frozen=True, slots=True)
class NotesReadLate:
    """The times of the notes before this may be too late by up to so many ns."""

    ns: int


PianoEvent = PianoFound | PianoLost | PianosToChoose | PianoRefused | NotesReadLate | Note


class Piano:
    """The connected piano, whichever it is at the moment, or none.

    All methods belong to one thread, the window's; only `wake` is called from another.
    """

    def __init__(self, wake: Callable[[], None], preferred: str | None = None) -> None:
        """Look for a piano at the first `poll`, the `preferred` one if it is there.

        `wake` is called from a thread of the port's for each note that arrives; it must return at
        once and raise nothing. Nothing is opened or imported yet.
        """
        self._wake = wake
        self._preferred = preferred
        self._driver: Driver | None = None
        self._open: dict[str, Connection] = {}
        self._current: Connection | None = None
        self._offered: tuple[str, ...] = ()
        self._refused: str | None = None
        self._next_check: int | None = None
        self.trouble: str | None = None

    @property
    def name(self) -> str | None:
        """The full name of the connected piano's port, or None."""
        return self._current.name if self._current else None

    def poll(self, now_ns: int) -> list[PianoEvent]:
        """Return what has happened since the last call; `now_ns` is monotonic time.

        Cheap but for one call a second, which looks at the names of the ports.
        """
        events = self._play()
        if self._next_check is None or now_ns >= self._next_check:
            events += self._check(now_ns)
            self._next_check = now_ns + (CHECK_EVERY if self._driver else RETRY_EVERY)
        return events

    def choose(self, name: str) -> None:
        """Prefer the piano of that name from the next `poll` on."""
        self._preferred = name
        self._next_check = None

    def port_names(self) -> list[Port]:
        """Return every input port, with what would become of it and why; sets `trouble`."""
        return describe(self._names(), self._preferred)

    def close(self) -> None:
        """Close every port and let go of the MIDI system."""
        for connection in self._open.values():
            connection.close(0)
        self._open.clear()
        self._current = None
        self._leave_driver()

    def _play(self) -> list[PianoEvent]:
        if self._current is None:
            return self._listen()
        notes = self._current.notes()
        if any(isinstance(note, NotePressed) for note in notes):
            self._preferred = self._current.name
        late = self._current.read_late()
        return [*notes] if late is None else [*notes, NotesReadLate(late)]

    def _listen(self) -> list[PianoEvent]:
        """Take the first piano to press a key among those on offer."""
        heard = {name: connection.notes() for name, connection in self._open.items()}
        pressed = [
            (note.at, name)
            for name, notes in heard.items()
            for note in notes
            if isinstance(note, NotePressed)
        ]
        if not pressed:
            return []
        name = min(pressed)[1]
        self._preferred = name
        return [*self._take(name, 0), *heard[name]]

    def _check(self, now: int) -> list[PianoEvent]:
        names = usable_names(self._names())
        events = self._drop(set(self._open) - set(names), now)
        if self._current is None:
            events += self._settle(names, now)
        elif (wanted := find(self._preferred, names)) not in (None, self._current.name):
            # Another piano stood in for the preferred one, which is back.
            events += self._drop({self._current.name}, now)
            events += self._take(str(wanted), now)
        elif self._current.went_silent(now):
            events += self._reopen(self._current, now)
        return events

    def _reopen(self, silent: Connection, now: int) -> list[PianoEvent]:
        """Open the piano's port anew; it is lost only if that fails."""
        *notes, lost = self._drop({silent.name}, now)
        self._current = self._connect(silent.name)
        return [*notes] if self._current else [*notes, lost]

    def _settle(self, names: list[str], now: int) -> list[PianoEvent]:
        """Take the piano there is, or listen to all if it is not clear which it is."""
        chosen = choose(names, self._preferred)
        if chosen is not None:
            return self._take(chosen, now)
        self._listen_in_turn(names, now)
        offered = tuple(names) if self._open else ()
        if offered == self._offered or not offered:
            return []
        self._offered = offered
        return [PianosToChoose(offered)]

    def _listen_in_turn(self, names: list[str], now: int) -> None:
        """Listen to every port, or to as many as can be heard at once, the longest heard last."""
        after_latest = names.index(list(self._open)[-1]) + 1 if self._open else 0
        in_turn = names[after_latest:] + names[:after_latest]
        waiting = [name for name in in_turn if name not in self._open]
        if len(self._open) >= MOST_HEARD:
            self._drop(set(list(self._open)[: min(OPENED_AT_ONCE, len(waiting))]), now)
        for name in waiting[: min(OPENED_AT_ONCE, MOST_HEARD - len(self._open))]:
            self._connect(name)

    def _take(self, name: str, now: int) -> list[PianoEvent]:
        """Make the port the piano and close all others; nothing if it cannot be opened."""
        connection = self._connect(name)
        if connection is None:
            told, self._refused = self._refused, name
            return [] if told == name else [PianoRefused(name)]
        self._refused = None
        self._drop(set(self._open) - {name}, now)
        self._current = connection
        self._offered = ()
        return [PianoFound(name, connection.clock)]

    def _connect(self, name: str) -> Connection | None:
        if name not in self._open and self._driver is not None:
            try:
                self._open[name] = Connection(self._driver, name, self._wake)
            except (OSError, ValueError, RuntimeError) as error:
                self.trouble = _(
                    "{name} cannot be opened ({error}): unplug it and plug it in again."
                ).format(name=name, error=error)
        return self._open.get(name)

    def _drop(self, names: set[str], now: int) -> list[PianoEvent]:
        """Close ports; the piano's own last notes and its loss are told, the others' are not."""
        events: list[PianoEvent] = []
        for name in sorted(names):
            connection = self._open.pop(name)
            notes = connection.close(now)
            if connection is self._current:
                self._current = None
                events += [*notes, PianoLost(name)]
        return events

    def _names(self) -> list[str]:
        """Return the names of all ports; none, and a sentence in `trouble`, without MIDI."""
        try:
            if self._driver is None:
                self._driver = find_driver()
            names = self._driver.names()
        except NoMidiError as trouble:
            self.trouble = str(trouble)
            self._leave_driver()
            return []
        self.trouble = None
        return names

    def _leave_driver(self) -> None:
        if self._driver is not None:
            self._driver.close()
            self._driver = None
