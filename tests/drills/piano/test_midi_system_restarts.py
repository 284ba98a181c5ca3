"""A MIDI server that ends and is started again: JACK, each program in a process of its own.

libjack keeps one server for a whole process, so nothing here touches JACK in the tests' own.
"""

import os
import signal
import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.machine import require

ROOT = Path(__file__).parents[3]
PATIENCE = 20.0
LISTENER = """
import select, sys, time
from drills.piano import Piano
piano = Piano(lambda: None)
while not select.select([sys.stdin], [], [], 0.002)[0]:
    for event in piano.poll(time.monotonic_ns()):
        print(type(event).__name__, getattr(event, "key", event), flush=True)
piano.close()
print("closed", flush=True)
"""
PIANO = """
import sys, rtmidi
port = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name="grand")
port.open_virtual_port("piano")
for line in sys.stdin:
    port.send_message([0x90, int(line), 64])
    port.send_message([0x80, int(line), 64])
"""
IS_THERE = "import rtmidi; rtmidi.MidiIn(rtmidi.API_UNIX_JACK).delete()"


class Machine:
    """A JACK server, a piano on it and a program that listens, each of which may end."""

    def __init__(self, stack):
        self._stack = stack
        self._name = f"landmark-restart-{os.getpid()}"
        self._environment = os.environ | {
            "JACK_NO_AUDIO_RESERVATION": "1",
            "JACK_DEFAULT_SERVER": self._name,
            "MIDO_BACKEND": "mido.backends.rtmidi/UNIX_JACK",
            "PYTHONPATH": str(ROOT),
        }
        self.said = []

    def start_server(self):
        self.server = self._start(
            ["jackd", "--name", self._name, "-S", "--no-realtime", "-d", "dummy"]
        )
        deadline = time.monotonic() + PATIENCE
        while subprocess.run(
            [sys.executable, "-c", IS_THERE],
            env=self._environment,
            capture_output=True,
            check=False,
        ).returncode:
            assert time.monotonic() < deadline, "jackd does not start"

    def end_server(self, how):
        self.server.send_signal(how)
        self.server.wait()

    def plug_in(self):
        self.piano = self._start([sys.executable, "-c", PIANO])

    def pull_out(self):
        self.piano.kill()
        self.piano.wait()

    def listen(self):
        self.listener = self._start([sys.executable, "-c", LISTENER])
        os.set_blocking(self.listener.stdout.fileno(), False)

    def press(self, key):
        self.piano.stdin.write(f"{key}\n".encode())
        self.piano.stdin.flush()

    def until(self, wanted, seconds=PATIENCE):
        deadline = time.monotonic() + seconds
        while wanted not in " ".join(self.said):
            assert self.listener.poll() is None or self.listener.returncode == 0
            assert time.monotonic() < deadline, f"no {wanted}, but {self.said}"
            self.said += (self.listener.stdout.read() or b"").decode().splitlines()
            time.sleep(0.01)
        self.said.clear()

    def end_listening(self):
        self.listener.stdin.write(b"\n")
        self.listener.stdin.flush()
        self.until("closed")
        return self.listener.wait(PATIENCE)

    def _start(self, command):
        process = subprocess.Popen(
            command, env=self._environment, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self._stack.callback(process.wait)
        self._stack.callback(process.terminate)
        return process


@pytest.fixture
def machine(jack):
    require("jackd", "jackd2")
    with ExitStack() as stack:
        machine = Machine(stack)
        yield machine
        if machine.server.poll() is not None:
            # A killed server holds one of the eight places there are until its name returns.
            machine.start_server()


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_a_server_that_ends_is_noticed_and_the_piano_is_heard_when_it_is_back(machine, how):
    machine.start_server()
    machine.plug_in()
    machine.listen()
    machine.until("PianoFound")
    machine.press(60)
    machine.until("NotePressed 60")
    machine.end_server(how)
    machine.until("PianoLost")
    machine.pull_out()
    machine.start_server()
    machine.plug_in()
    machine.until("PianoFound")
    machine.press(62)
    machine.until("NotePressed 62")
    assert machine.end_listening() == 0


def test_a_server_that_is_started_again_at_once_is_noticed_too(machine):
    machine.start_server()
    machine.plug_in()
    machine.listen()
    machine.until("PianoFound")
    machine.end_server(signal.SIGTERM)
    machine.pull_out()
    machine.start_server()
    machine.plug_in()
    machine.until("PianoLost")
    machine.until("PianoFound")
    machine.press(64)
    machine.until("NotePressed 64")
    assert machine.end_listening() == 0


def test_closing_after_the_server_ended_crashes_nothing(machine):
    machine.start_server()
    machine.plug_in()
    machine.listen()
    machine.until("PianoFound")
    machine.end_server(signal.SIGKILL)
    assert machine.end_listening() == 0
