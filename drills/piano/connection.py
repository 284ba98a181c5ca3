"""Keeps one piano connected: finds it, notices that it is gone, takes it up when it returns."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from drills.log import Clock
from drills.piano.backends import Backend, OpenPort, open_backend
from drills.piano.messages import NotePressed, NoteReader, NoteReleased
from drills.piano.ports import piano_ports, plain_name, preferred_port

PROBE_NS = 1_000_000_000
"""No driver says that a port has gone, so the names are looked at once a second."""
MISSED_PROBES_BACKEND = 5
"""A MIDI system that could not be opened is tried again every so many probes."""


@dataclass(frozen=True)
class PianoFound:
    """A piano is connected; `name` is the same whenever it returns."""

    name: str
    clock: Clock


@dataclass(frozen=True)
class PianoLost:
    """The connected piano is gone."""

    name: str


@dataclass(frozen=True)
class PianosToChoose:
    """Several pianos are there: the first that plays is taken, unless one is chosen by name."""

    names: tuple[str, ...]


PianoEvent = NotePressed | NoteReleased | PianoFound | PianoLost | PianosToChoose


@dataclass(frozen=True)
class _Arrival:
    port: str
    data: bytes
    at: int


class Piano:
    """The one piano that is played, through whatever comes and goes."""

    def __init__(self, wake: Callable[[], None], known: Sequence[str] = ()) -> None:
        """Prepare to connect.

        `wake` is called from the driver's thread whenever something arrived; `known` are the
        names of pianos used before, the last one last.
        """
        self.trouble: str | None = None
        """One sentence if the machine's MIDI system cannot be used, else None."""
        self._wake = wake
        self._known = list(known)
        self._backend: Backend | None = None
        self._arrived: deque[_Arrival] = deque()
        self._ports: dict[str, OpenPort] = {}
        self._connected: str | None = None
        self._reader = NoteReader()
        self._next_probe = 0

    @property
    def connected(self) -> bool:
        """Whether a piano is connected."""
        return self._connected is not None

    def poll(self, now: int) -> list[PianoEvent]:
        """Give what happened since the last call, in order; `now` is the monotonic clock in ns."""
        happened = self._drain()
        if now >= self._next_probe:
            self._next_probe = now + PROBE_NS
            happened += self._probe(now)
        return happened

    def choose(self, name: str) -> list[PianoEvent]:
        """Take one of the pianos to choose from."""
        port = next((port for port in self._ports if plain_name(port) == name), None)
        return [] if port is None else self._connect(port)

    def close(self) -> None:
        """Let go of the piano and of the MIDI system."""
        self._close_ports(keep=None)
        if self._backend is not None:
            self._backend.close()
            self._backend = None

    # What arrives

    def _hear(self, port: str) -> Callable[[bytes, int], None]:
        def hear(data: bytes, at: int) -> None:
            self._arrived.append(_Arrival(port, data, at))
            self._wake()

        return hear

    def _drain(self) -> list[PianoEvent]:
        happened: list[PianoEvent] = []
        for _ in range(len(self._arrived)):
            arrival = self._arrived.popleft()
            if self._connected is None and arrival.port in self._ports and _plays(arrival.data):
                happened += self._connect(arrival.port)
            if arrival.port == self._connected:
                happened += self._reader.read(arrival.data, arrival.at)
        return happened

    # What comes and goes

    def _probe(self, now: int) -> list[PianoEvent]:
        names = self._names(now)
        happened: list[PianoEvent] = []
        if self._connected is not None and self._connected not in names:
            happened += self._lose(now)
        if self._connected is None:
            happened += self._look_for_one(names)
        return happened

    def _names(self, now: int) -> tuple[str, ...]:
        try:
            if self._backend is None:
                self._backend = open_backend()
            names = piano_ports(self._backend.names())
        except Exception as error:
            self.trouble = str(error)
            self._backend = None
            self._next_probe = now + MISSED_PROBES_BACKEND * PROBE_NS
            return ()
        self.trouble = None
        return names

    def _look_for_one(self, names: tuple[str, ...]) -> list[PianoEvent]:
        wanted = preferred_port(names, self._known)
        if wanted is not None:
            self._listen([wanted])
            return self._connect(wanted) if wanted in self._ports else []
        before = set(self._ports)
        self._listen(names)
        if self._ports and set(self._ports) != before:
            return [PianosToChoose(tuple(plain_name(port) for port in self._ports))]
        return []

    def _listen(self, names: Sequence[str]) -> None:
        for gone in [port for port in self._ports if port not in names]:
            self._ports.pop(gone).close()
        for name in names:
            if name in self._ports or self._backend is None:
                continue
            try:
                self._ports[name] = self._backend.listen(name, self._hear(name))
            except OSError as error:
                self.trouble = str(error)

    def _connect(self, port: str) -> list[PianoEvent]:
        self._close_ports(keep=port)
        self._connected = port
        self._reader = NoteReader()
        name = plain_name(port)
        self._known = [known for known in self._known if known != name] + [name]
        assert self._backend is not None
        return [PianoFound(name, self._backend.clock)]

    def _lose(self, now: int) -> list[PianoEvent]:
        assert self._connected is not None
        happened: list[PianoEvent] = [*self._reader.release_all(now)]
        happened.append(PianoLost(plain_name(self._connected)))
        self._connected = None
        self._close_ports(keep=None)
        return happened

    def _close_ports(self, keep: str | None) -> None:
        for name in [name for name in self._ports if name != keep]:
            self._ports.pop(name).close()


def port_report(known: Sequence[str]) -> str:
    """Say in a few lines which inputs there are and which one would be taken."""
    without = "without a piano, the keyboard on the screen can be played"
    try:
        backend = open_backend()
    except OSError as error:
        return f"no pianos: {error}; {without}"
    names = backend.names()
    backend.close()
    ports = piano_ports(names)
    if not ports:
        return f"no pianos: switch one on and connect it by USB; {without}"
    wanted = preferred_port(ports, known)
    lines = [f"{'*' if port == wanted else ' '} {port}" for port in ports]
    if wanted is None:
        lines.append("several pianos: practise takes the first that plays a note")
    return "\n".join(lines)


def _plays(data: bytes) -> bool:
    """Tell whether a message presses a key: status 0x90 to 0x9F, velocity not 0 (MIDI 1.0)."""
    return len(data) == 3 and data[0] & 0xF0 == 0x90 and data[2] > 0
