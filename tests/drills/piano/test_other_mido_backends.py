"""Backends other than rtmidi, played by one that is written here; times are those of arrival."""

import sys
import time
from types import ModuleType

import mido
import pytest
from mido.ports import BaseInput

from drills.piano import NotePressed, NoteReleased, Piano, PianoFound, PianoLost

PATIENCE = 10.0


class Backend(ModuleType):
    """A mido backend module as mido documents it, with one device, and none once unplugged."""

    def __init__(self, name):
        super().__init__(name)
        self.plugged_in = True
        self.opened = []
        backend = self

        class Input(BaseInput):
            def _open(self, **options):
                backend.opened.append(self)

            def _receive(self, block=True):
                pass

        self.Input = Input

    def get_devices(self, **options):
        names = ["Upright 1"] if self.plugged_in else []
        return [{"name": name, "is_input": True, "is_output": False} for name in names]

    def play(self, message):
        self.opened[-1]._messages.append(message)


@pytest.fixture
def backend(monkeypatch):
    module = Backend("scripted_backend")
    monkeypatch.setitem(sys.modules, "scripted_backend", module)
    monkeypatch.setenv("MIDO_BACKEND", "scripted_backend")
    return module


@pytest.fixture
def piano():
    piano = Piano(lambda: None)
    yield piano
    piano.close()


def poll_until_pressed(piano):
    deadline, events = time.monotonic() + PATIENCE, []
    while not any(isinstance(event, NotePressed) for event in events):
        assert time.monotonic() < deadline
        events += piano.poll(time.monotonic_ns())
        time.sleep(0.001)
    return events


def test_a_piano_of_another_backend_is_found_played_and_lost(backend, piano):
    assert piano.poll(0) == [PianoFound("Upright 1", clock="arrival")]
    before = time.monotonic_ns()
    backend.play(mido.Message("note_on", note=60, velocity=70, channel=0))
    [pressed] = poll_until_pressed(piano)
    assert pressed == NotePressed(60, 70, 1, pressed.at)
    assert before <= pressed.at <= time.monotonic_ns()
    backend.plugged_in = False
    now = time.monotonic_ns() + 10**10
    assert piano.poll(now) == [NoteReleased(60, 64, 1, now), PianoLost("Upright 1")]
    assert backend.opened[-1].closed


def test_every_piano_message_of_another_backend_does_no_harm(backend, piano):
    piano.poll(0)
    for message in (
        mido.Message("active_sensing"),
        mido.Message("control_change", control=64, value=127),
        mido.Message("sysex", data=(1, 2, 3)),
        mido.Message("note_on", note=67, velocity=1, channel=15),
    ):
        backend.play(message)
    [pressed] = poll_until_pressed(piano)
    assert (pressed.key, pressed.channel) == (67, 16)
