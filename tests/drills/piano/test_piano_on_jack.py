"""Real ports that come and go, through JACK and python-rtmidi."""

import threading
import time
from pathlib import Path

import pytest

from drills.piano import NotePressed, NoteReleased, Piano, PianoFound, PianoLost, PianosToChoose
from drills.piano.piano import CHECK_EVERY

PATIENCE = 10.0  # seconds until a test gives up; far more than is ever needed


class Listener:
    """The window's loop, with a clock that runs ahead so that names are looked at every time."""

    def __init__(self, preferred=None):
        self.woken = threading.Event()
        self.piano = Piano(self.woken.set, preferred)
        self.events = []
        self._ahead = 0

    def look(self):
        self._ahead += CHECK_EVERY
        self.events += self.piano.poll(time.monotonic_ns() + self._ahead)

    def until(self, wanted):
        """Look until an event equals `wanted`, or is of that type; give all so far."""
        deadline = time.monotonic() + PATIENCE
        while not any(event == wanted or type(event) is wanted for event in self.events):
            assert time.monotonic() < deadline, f"no {wanted}, but {self.events}"
            self.look()
            time.sleep(0.005)
        told, self.events = self.events, []
        return told

    def until_pressed(self, key):
        deadline = time.monotonic() + PATIENCE
        while not any(isinstance(e, NotePressed) and e.key == key for e in self.events):
            assert time.monotonic() < deadline, f"no key {key}, but {self.events}"
            self.events += self.piano.poll(0)  # Times in the past: the names are left alone.
            time.sleep(0.001)
        told, self.events = self.events, []
        return told


@pytest.fixture
def listen(jack):
    listeners = []

    def begin(preferred=None):
        listeners.append(Listener(preferred))
        return listeners[-1]

    yield begin
    for listener in listeners:
        listener.piano.close()


def notes(events):
    return [event for event in events if isinstance(event, NotePressed | NoteReleased)]


def test_a_piano_that_is_there_is_found(scripted_piano, listen):
    listener = listen()
    assert listener.until(PianoFound) == [PianoFound(scripted_piano.name, clock="driver")]
    assert listener.piano.name == scripted_piano.name
    assert listener.piano.trouble is None


def test_without_a_piano_nothing_happens_and_nothing_is_wrong(listen):
    listener = listen()
    listener.look()
    listener.look()
    assert listener.events == []
    assert listener.piano.trouble is None


def test_a_pressed_key_arrives_at_its_time_and_wakes_the_window(scripted_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    before = scripted_piano.press(60, velocity=33, channel=2)
    assert listener.woken.wait(PATIENCE)
    [pressed] = listener.until_pressed(60)
    after = time.monotonic_ns()
    assert pressed == NotePressed(60, 33, 2, pressed.at)
    assert before < pressed.at < after


def test_what_a_piano_sends_besides_keys_neither_wakes_nor_harms(scripted_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    for message in (
        [0xFE],
        [0xF8],
        [0xB0, 64, 127],
        [0xC0, 5],
        [0xE0, 0, 64],
        [0xD0, 9],
        [0xF0, 0x7E, 60, 80, 0xF7],
    ):
        scripted_piano.send(message)
    scripted_piano.press(67)
    assert [note.key for note in notes(listener.until_pressed(67))] == [67]
    listener.woken.clear()
    scripted_piano.send([0xFE])
    assert not listener.woken.wait(0.1)


def test_layered_sounds_are_one_key(scripted_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    for key in (60, 64):
        scripted_piano.press(key, channel=1)
        scripted_piano.press(key, channel=2)
        scripted_piano.release(key, channel=1)
        scripted_piano.release(key, channel=2)
    scripted_piano.press(72)
    kinds = [(type(note), note.key) for note in notes(listener.until_pressed(72))]
    assert kinds == [
        (NotePressed, 60),
        (NoteReleased, 60),
        (NotePressed, 64),
        (NoteReleased, 64),
        (NotePressed, 72),
    ]


def test_every_key_of_a_fast_run_arrives_in_order(scripted_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    run = list(range(21, 109))
    for key in run:
        scripted_piano.press(key)
        scripted_piano.release(key, velocity=0)
        time.sleep(0.002)
    told = notes(listener.until_pressed(108))
    assert [note.key for note in told if isinstance(note, NotePressed)] == run
    times = [note.at for note in told]
    assert times == sorted(times)


def test_a_pulled_cable_is_noticed_and_held_keys_are_let_up(scripted_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    scripted_piano.press(60)
    scripted_piano.press(64)
    listener.until_pressed(64)
    scripted_piano.close()
    *released, lost = listener.until(PianoLost)
    assert [(type(note), note.key) for note in released] == [
        (NoteReleased, 60),
        (NoteReleased, 64),
    ]
    assert lost == PianoLost(scripted_piano.name)
    assert listener.piano.name is None


def test_a_piano_that_returns_is_heard_again(scripted_piano, new_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    for key in (60, 62, 64):
        scripted_piano.close()
        listener.until(PianoLost)
        scripted_piano = new_piano(scripted_piano.name.removesuffix(":piano"))
        assert listener.until(PianoFound) == [PianoFound(scripted_piano.name, "driver")]
        scripted_piano.press(key)
        assert [note.key for note in notes(listener.until_pressed(key))] == [key]


def test_times_are_right_after_the_piano_returned(scripted_piano, new_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    scripted_piano.press(60)
    listener.until_pressed(60)
    scripted_piano.close()
    listener.until(PianoLost)
    back = new_piano(scripted_piano.name.removesuffix(":piano"))
    listener.until(PianoFound)
    for key in (62, 64):
        before = back.press(key)
        [pressed] = listener.until_pressed(key)
        assert before < pressed.at < time.monotonic_ns()


def test_of_several_pianos_the_first_to_be_played_is_taken(new_piano, listen):
    left, right = new_piano(), new_piano()
    listener = listen()
    [choice] = listener.until(PianosToChoose)
    assert set(choice.names) == {left.name, right.name}
    right.press(65)
    found, pressed = listener.until_pressed(65)
    assert found == PianoFound(right.name, "driver")
    assert pressed.key == 65
    left.press(40)
    right.press(66)
    assert [note.key for note in notes(listener.until_pressed(66))] == [66]


def test_of_several_pianos_the_one_chosen_is_taken(new_piano, listen):
    left, _ = new_piano(), new_piano()
    listener = listen()
    listener.until(PianosToChoose)
    listener.piano.choose(left.name)
    assert listener.until(PianoFound) == [PianoFound(left.name, "driver")]


def test_of_several_pianos_the_one_used_last_is_taken_without_asking(new_piano, listen):
    _, right = new_piano(), new_piano()
    listener = listen(preferred=right.name)
    assert listener.until(PianoFound) == [PianoFound(right.name, "driver")]


def test_the_choice_ends_when_only_one_piano_is_left(new_piano, listen):
    left, right = new_piano(), new_piano()
    listener = listen()
    listener.until(PianosToChoose)
    left.close()
    assert listener.until(PianoFound) == [PianoFound(right.name, "driver")]


def test_a_stand_in_gives_way_when_the_piano_used_last_appears(new_piano, listen):
    stand_in = new_piano()
    listener = listen(preferred="grand-of-last-week:piano")
    assert listener.until(PianoFound) == [PianoFound(stand_in.name, "driver")]
    new_piano("grand-of-last-week")
    assert listener.until(PianoFound) == [
        PianoLost(stand_in.name),
        PianoFound("grand-of-last-week:piano", "driver"),
    ]


def test_a_piano_that_is_played_is_kept_when_others_appear(scripted_piano, new_piano, listen):
    listener = listen(preferred="grand-of-last-week:piano")
    listener.until(PianoFound)
    scripted_piano.press(60)
    listener.until_pressed(60)
    new_piano("grand-of-last-week")
    for _ in range(20):
        listener.look()
    assert listener.events == []
    assert listener.piano.name == scripted_piano.name


def test_a_piano_that_came_back_unnoticed_is_opened_anew(scripted_piano, new_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    scripted_piano.send([0xFE])
    scripted_piano.press(60)
    listener.until_pressed(60)
    scripted_piano.close()
    back = new_piano(scripted_piano.name.removesuffix(":piano"))
    # The clock of `look` has run ahead by now: active sensing has been missing for long.
    [released] = listener.until(NoteReleased)
    assert released.key == 60
    back.press(62)
    assert [note.key for note in notes(listener.until_pressed(62))] == [62]


def test_every_port_is_listed_with_what_becomes_of_it(new_piano, listen):
    left, right = new_piano(), new_piano()
    ports = listen(preferred=left.name).piano.port_names()
    why = {port.name: port.why for port in ports}
    assert "used last" in why[left.name]
    assert "not taken" in why[right.name]


def test_a_closed_piano_says_nothing_more(scripted_piano, listen):
    listener = listen()
    listener.until(PianoFound)
    scripted_piano.press(60)
    listener.until_pressed(60)
    listener.piano.close()
    listener.woken.clear()
    scripted_piano.press(62)
    assert not listener.woken.wait(0.1)
    assert listener.piano.name is None


def test_many_comings_and_goings_leave_no_client_behind(jack, new_piano, listen):
    def open_files():
        return len(list(Path("/proc/self/fd").iterdir()))

    listener = listen()
    piano = new_piano()
    listener.until(PianoFound)
    before = open_files()
    for _ in range(20):
        piano.close()
        listener.until(PianoLost)
        piano = new_piano(piano.name.removesuffix(":piano"))
        listener.until(PianoFound)
    assert open_files() <= before
