"""What tests and benches need of a machine: a JACK server, a piano on it, and an X server."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

if HAS_RTMIDI := importlib.util.find_spec("rtmidi") is not None:
    import rtmidi

_FRAMES: dict[str, Path] = {}
"""Where the X servers that run here keep what is on their screens."""


class MissingError(Exception):
    """Something is not installed; the message says what, and which Debian package has it."""


class NotForThisPythonError(MissingError):
    """Something cannot be installed on this Python."""


@contextmanager
def jack_server(real_time: bool = True) -> Iterator[dict[str, str]]:
    """A JACK server of our own; gives the environment in which mido uses it.

    In real time where the system allows it, as a driver works whatever else is busy. Synchronous
    (-S), because without real-time rights an asynchronous server goes on without a client that is
    late, and the notes of that cycle are lost.
    """
    if not HAS_RTMIDI:
        raise NotForThisPythonError("python-rtmidi has no wheel for this Python")
    require("jackd", "jackd2")
    if rtmidi.API_UNIX_JACK not in rtmidi.get_compiled_api():
        raise MissingError("this python-rtmidi is built without JACK")
    environment = {
        "JACK_NO_AUDIO_RESERVATION": "1",
        "JACK_DEFAULT_SERVER": f"landmark-{os.getpid()}",
        "MIDO_BACKEND": "mido.backends.rtmidi/UNIX_JACK",
    }
    kept = {name: os.environ.get(name) for name in environment}
    os.environ.update(environment)
    name = environment["JACK_DEFAULT_SERVER"]
    priority = "-R -P 10" if real_time and real_time_allowed() else "--no-realtime"
    command = f"jackd --name {name} -S {priority} -d dummy -r 48000 -p 64"
    process = subprocess.Popen(
        command.split(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        _wait_for_jack(process)
        yield environment
    finally:
        process.terminate()
        process.wait(10)
        for name, value in kept.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


def real_time_allowed() -> bool:
    """Say whether a thread of this process may have real-time priority."""
    before = os.sched_getscheduler(0)
    try:
        os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(10))
    except PermissionError:
        return False
    os.sched_setscheduler(0, before, os.sched_param(0))
    return True


@contextmanager
def x_server(width: int = 1024, height: int = 768) -> Iterator[str]:
    """An X server without a monitor, 24 bits deep, on a free display; gives its DISPLAY."""
    require("Xvfb", "xvfb")
    reading, writing = os.pipe()
    size = f"{width}x{height}x24"
    frames = tempfile.mkdtemp()
    process = subprocess.Popen(
        [
            "Xvfb",
            "-displayfd",
            str(writing),
            "-screen",
            "0",
            size,
            "-nolisten",
            "tcp",
            "-fbdir",
            frames,
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
            raise RuntimeError("Xvfb does not start")
        _FRAMES[f":{number}"] = Path(frames) / "Xvfb_screen0"
        yield f":{number}"
    finally:
        process.terminate()
        process.wait(10)
        shutil.rmtree(frames)


def frame_on(display: str) -> bytes:
    """All pixels that are on the screen of an X server now (Xvfb(1), -fbdir)."""
    return _FRAMES[display].read_bytes()


class ScriptedPiano:
    """A piano with a JACK port of its own, played by a program. Channels are 1 to 16."""

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
        """Pull the cable; once more does nothing.

        A process that ends without this keeps the synchronous server waiting for seconds.
        """
        if not self._port.is_deleted:
            self._port.delete()


def require(program: str, package: str) -> None:
    """Make sure that a program is installed."""
    if shutil.which(program) is None:
        raise MissingError(f"{program} is not installed (Debian package {package})")


def _wait_for_jack(process: subprocess.Popen[bytes]) -> None:
    deadline = time.monotonic() + 10
    while time.monotonic() < deadline and process.poll() is None:
        try:
            rtmidi.MidiIn(rtmidi.API_UNIX_JACK).delete()
            return
        except rtmidi.SystemError:
            time.sleep(0.05)
    raise RuntimeError("jackd does not start")
