"""The piano through pygame's PortMidi, for Pythons without python-rtmidi.

No build machine has a device that PortMidi finds, so `pygame.midi` is stood in for by a module with
the interface of its documentation (pygame 2.6, "pygame.midi"): devices are listed once, at `init`;
a read gives `[[status, data1, data2, data3], timestamp in ms]`; whatever is done before `init`
raises RuntimeError.
"""

import sys
import time
from types import ModuleType

import pygame
import pytest

from drills.piano import NotePressed, NoteReleased, NotesReadLate, Piano, PianoFound, PianoLost
from drills.piano.connection import LONGEST_SILENCE
from drills.piano.find_driver import find_driver
from drills.piano.piano import CHECK_EVERY

PATIENCE = 10.0
MS = 1_000_000


class Midi(ModuleType):
    """`pygame.midi`, with devices that the test plugs in and plays."""

    def __init__(self):
        super().__init__("pygame.midi")
        self.plugged_in = [b"Upright"]
        self.broken = self.busy = False
        self._listed = None
        self._received = {}
        midi = self

        class MidiException(Exception):  # noqa: N818
            pass

        class Input:
            def __init__(self, device_id, buffer_size=4096):
                midi._check()
                self._queue = midi._received.setdefault(midi._listed[device_id], [])
                self._is_open = True

            def poll(self):
                midi._check()
                if midi.broken or not self._is_open:
                    raise MidiException((-9999, "`PortMidi: Host error'"))
                return bool(self._queue) and not midi.busy

            def read(self, num_events):
                midi._check()
                events, self._queue[:num_events] = self._queue[:num_events], []
                return events

            def close(self):
                midi._check()
                self._is_open = False

        self.MidiException, self.Input = MidiException, Input

    def init(self):
        if self._listed is None:
            self._listed = list(self.plugged_in)

    def quit(self):
        self._listed = None

    def get_count(self):
        self._check()
        return 1 + len(self._listed)

    def get_device_info(self, number):
        self._check()
        if number == len(self._listed):
            return (b"ALSA", b"Loudspeaker", 0, 1, 0)
        return (b"ALSA", self._listed[number], 1, 0, 0)

    def send(self, data, timestamp, name=b"Upright"):
        self._received.setdefault(name, []).append([[*data, *[0] * (4 - len(data))], timestamp])

    def _check(self):
        if self._listed is None:
            raise RuntimeError("pygame.midi not initialised.")


@pytest.fixture
def midi(monkeypatch):
    module = Midi()
    monkeypatch.setitem(sys.modules, "pygame.midi", module)
    monkeypatch.setattr(pygame, "midi", module, raising=False)
    monkeypatch.setenv("MIDO_BACKEND", "mido.backends.pygame")
    return module


@pytest.fixture
def piano(midi):
    piano = Piano(lambda: None)
    yield piano
    piano.close()


def until_pressed(piano, key):
    deadline, events = time.monotonic() + PATIENCE, []
    while not any(isinstance(event, NotePressed) and event.key == key for event in events):
        assert time.monotonic() < deadline, events
        events += piano.poll(0)
        time.sleep(0.001)
    # On a busy machine notes are read late, which is told.
    return [event for event in events if not isinstance(event, NotesReadLate)]


def test_where_python_rtmidi_cannot_be_loaded_and_nobody_chose_portmidi_is_taken(midi, monkeypatch):
    monkeypatch.delenv("MIDO_BACKEND")
    monkeypatch.setitem(sys.modules, "rtmidi", None)
    driver = find_driver()
    assert (type(driver).__name__, driver.clock) == ("PortMidiDriver", "milliseconds")
    assert driver.names() == ["Upright"]


def test_a_piano_is_found_and_its_keys_are_heard(midi, piano):
    assert piano.poll(0) == [PianoFound("Upright", clock="milliseconds")]
    midi.send([0x95, 60, 64], 100)
    [pressed] = until_pressed(piano, 60)
    assert (pressed.velocity, pressed.channel) == (64, 6)


def test_times_are_the_drivers_to_the_millisecond_and_not_those_of_arrival(midi, piano):
    piano.poll(0)
    midi.send([0x90, 60, 64], 5000)
    [first] = until_pressed(piano, 60)
    # The others lie unread while the program is busy.
    midi.busy = True
    for key, stamp in ((62, 5100), (64, 5101), (65, 5250)):
        midi.send([0x90, key, 64], stamp)
    time.sleep(0.9)
    midi.busy = False
    pressed = [event for event in until_pressed(piano, 65) if isinstance(event, NotePressed)]
    assert [round((event.at - first.at) / MS) for event in pressed] == [100, 101, 250]


def test_what_portmidi_fills_up_a_message_with_is_no_message(midi, piano):
    piano.poll(0)
    # Running status would read the zeros after active sensing and clock as keys.
    midi.send([0x90, 60, 64], 0)
    midi.send([0xFE], 1)
    midi.send([0xF8], 2)
    midi.send([0xC0, 5], 3)
    for part in ([0xF0, 0x7E, 60, 80], [1, 2, 3, 4], [0xF7]):
        midi.send(part, 4)
    midi.send([0x80, 60, 0], 5)
    midi.send([0x90, 67, 1], 6)
    told = [(type(event), event.key) for event in until_pressed(piano, 67)]
    assert told == [(NotePressed, 60), (NoteReleased, 60), (NotePressed, 67)]


def test_a_piano_that_is_plugged_in_later_is_found(midi, piano):
    midi.plugged_in = []
    assert piano.poll(0) == []
    midi.plugged_in = ["Flügel".encode("latin-1")]
    assert piano.poll(CHECK_EVERY) == [PianoFound("Fl\N{REPLACEMENT CHARACTER}gel", "milliseconds")]


def test_a_piano_that_was_pulled_out_is_missed_once_it_was_silent(midi, piano):
    piano.poll(0)
    midi.plugged_in = []
    assert piano.poll(CHECK_EVERY) == []
    late = CHECK_EVERY + LONGEST_SILENCE + 1
    assert piano.poll(late) == [PianoLost("Upright")]
    midi.plugged_in = [b"Upright"]
    assert piano.poll(late + CHECK_EVERY) == [PianoFound("Upright", "milliseconds")]


def test_a_device_that_portmidi_reports_broken_is_opened_anew(midi, piano):
    piano.poll(0)
    midi.broken = True
    deadline = time.monotonic() + PATIENCE
    while not piano._current._port.failed:
        assert time.monotonic() < deadline
        time.sleep(0.001)
    midi.broken = False
    assert piano.poll(CHECK_EVERY) == []
    midi.send([0x90, 62, 64], 5)
    assert until_pressed(piano, 62)


def test_without_the_midi_part_of_pygame_one_sentence_says_so(monkeypatch):
    monkeypatch.setitem(sys.modules, "pygame.midi", None)
    monkeypatch.delattr(pygame, "midi", raising=False)
    monkeypatch.setenv("MIDO_BACKEND", "mido.backends.pygame")
    piano = Piano(lambda: None)
    assert piano.poll(0) == []
    assert "install pygame anew" in piano.trouble


@pytest.mark.skipif(sys.platform != "linux", reason="the loudspeakers of others are their own")
def test_the_real_portmidi_of_a_machine_without_devices_says_nothing_and_finds_none(
    monkeypatch, capfd
):
    monkeypatch.setenv("MIDO_BACKEND", "mido.backends.pygame")
    monkeypatch.setenv("ALSA_CONFIG_PATH", "/dev/null")
    piano = Piano(lambda: None)
    assert piano.poll(0) == []
    assert (piano.trouble, piano.name) == (None, None)
    piano.close()
    assert capfd.readouterr() == ("", "")
