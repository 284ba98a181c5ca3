"""What the tests need of a machine: a JACK server for MIDI, and an X server for the window."""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count

import pytest
import rtmidi

EVERYTHING = os.environ.get("LANDMARK_DRILLS_ALL_TESTS") == "1"
_numbers = count()


def require(program: str, package: str) -> None:
    """Skip the test, or fail it where everything must run, if a program is not installed."""
    if shutil.which(program) is None:
        sentence = f"{program} is not installed (Debian package {package})"
        if EVERYTHING:
            pytest.fail(sentence)
        pytest.skip(sentence)


@pytest.fixture(scope="session")
def jack() -> Iterator[str]:
    """A JACK server of our own, and mido set to use it; gives the server's name.

    Synchronous (-S), because without real-time rights an asynchronous server goes on without a
    client that is late, and the notes of that cycle are lost.
    """
    require("jackd", "jackd2")
    if rtmidi.API_UNIX_JACK not in rtmidi.get_compiled_api():
        pytest.skip("python-rtmidi is built without JACK")
    server = f"landmark-tests-{os.getpid()}"
    command = f"jackd --name {server} -S --no-realtime -d dummy -r 48000 -p 64"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("JACK_NO_AUDIO_RESERVATION", "1")
        patch.setenv("JACK_DEFAULT_SERVER", server)
        patch.setenv("MIDO_BACKEND", "mido.backends.rtmidi/UNIX_JACK")
        process = subprocess.Popen(
            command.split(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        try:
            _wait_for_jack(process)
            yield server
        finally:
            process.terminate()
            process.wait(10)


def _wait_for_jack(process: subprocess.Popen[bytes]) -> None:
    deadline = time.monotonic() + 10
    while time.monotonic() < deadline and process.poll() is None:
        try:
            rtmidi.MidiIn(rtmidi.API_UNIX_JACK).delete()
            return
        except rtmidi.SystemError:
            time.sleep(0.05)
    pytest.fail("jackd does not start")


class ScriptedPiano:
    """A piano with a port of its own, played by the test. Channels are 1 to 16."""

    def __init__(self, client: str) -> None:
        self.name = f"{client}:piano"
        self._port = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name=client)
        self._port.open_virtual_port("piano")

    def press(self, key: int, velocity: int = 80, channel: int = 1) -> int:
        """Press a key; give the monotonic ns just before."""
        return self.send([0x90 | channel - 1, key, velocity])

    def release(self, key: int, velocity: int = 64, channel: int = 1) -> int:
        """Release a key; give the monotonic ns just before."""
        return self.send([0x80 | channel - 1, key, velocity])

    def send(self, data: list[int]) -> int:
        """Send the bytes of one message; give the monotonic ns just before."""
        at = time.monotonic_ns()
        self._port.send_message(data)
        return at

    def close(self) -> None:
        """Pull the cable."""
        if not self._port.is_deleted:
            self._port.delete()


@pytest.fixture
def new_piano(jack: str) -> Iterator[Callable[..., ScriptedPiano]]:
    """Plugs in further scripted pianos: `new_piano()`, or `new_piano(name)` for a name again."""
    pianos: list[ScriptedPiano] = []

    def plug_in(client: str | None = None) -> ScriptedPiano:
        piano = ScriptedPiano(client or f"scripted-{os.getpid()}-{next(_numbers)}")
        pianos.append(piano)
        return piano

    yield plug_in
    for piano in pianos:
        piano.close()


@pytest.fixture
def scripted_piano(new_piano: Callable[..., ScriptedPiano]) -> ScriptedPiano:
    """A scripted piano that is plugged in."""
    return new_piano()


@contextmanager
def x_server(width: int = 1024, height: int = 768) -> Iterator[str]:
    """An X server without a screen, 24 bits deep, on a free display; gives its DISPLAY."""
    require("Xvfb", "xvfb")
    reading, writing = os.pipe()
    process = subprocess.Popen(
        [
            "Xvfb",
            "-displayfd",
            str(writing),
            "-screen",
            "0",
            f"{width}x{height}x24",
            "-nolisten",
            "tcp",
        ],
        pass_fds=[writing],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    try:
        with os.fdopen(reading) as pipe:
            number = pipe.readline().strip()
        if not number:
            pytest.fail("Xvfb does not start")
        yield f":{number}"
    finally:
        process.terminate()
        process.wait(10)


@pytest.fixture
def screen(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """An X server for this test, and DISPLAY set to it.

    1024 by 768, or as in `@pytest.mark.parametrize("screen", [(1920, 1080)], indirect=True)`.
    """
    width, height = getattr(request, "param", (1024, 768))
    with x_server(width, height) as display:
        monkeypatch.setenv("DISPLAY", display)
        monkeypatch.setenv("SDL_VIDEODRIVER", "x11")
        yield display
