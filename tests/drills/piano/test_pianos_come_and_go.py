"""Whatever is plugged in, pulled out, fails or is played, the events tell one coherent story."""

from unittest import mock

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.piano import (
    NotePressed,
    NoteReleased,
    NotesReadLate,
    Piano,
    PianoFound,
    PianoLost,
    PianoRefused,
    PianosToChoose,
)
from drills.piano.connection import LONGEST_SILENCE, READ_LATE
from drills.piano.driver import NoMidiError
from drills.piano.piano import CHECK_EVERY, MOST_HEARD, RETRY_EVERY

NAMES = ("Upright 20:0", "Stage 24:0", "Midi Through:Midi Through Port-0 14:0")


class Desk:
    """A driver whose ports are plugged in and pulled out by the test."""

    clock = "driver"

    def __init__(self):
        self.plugged_in = {}
        self.broken = self.jammed = False
        self.probes = self.searches = 0
        self.opened = {}

    def find(self):
        self.searches += 1
        if self.broken:
            raise NoMidiError("The cable drum rolls.")
        self.probes += 1
        return self

    def names(self):
        if self.broken:
            raise NoMidiError("The cable drum rolls.")
        return list(self.plugged_in)

    def open(self, name, receive):
        if self.jammed:
            raise OSError("jammed")
        self.plugged_in[name] = receive
        self.opened[name] = mock.Mock(failed=False)
        return self.opened[name]

    def close(self):
        self.probes -= 1

    def act(self, action, name, key):
        if action == "plug in":
            self.plugged_in.setdefault(name, None)
        elif action == "pull out":
            self.plugged_in.pop(name, None)
        elif action in ("broken", "jammed"):
            setattr(self, action, not getattr(self, action))
        elif receive := self.plugged_in.get(name):
            receive([0x90 if action == "press" else 0x80, key, 64], 0.1, 1, 0)


actions = st.tuples(
    st.sampled_from(["plug in", "pull out", "press", "release", "broken", "jammed"]),
    st.sampled_from(NAMES),
    st.integers(60, 62),
)


def events_of(script, preferred=None):
    desk, events, now = Desk(), [], 0
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None, preferred)
        for action in script:
            desk.act(*action)
            now += RETRY_EVERY
            told = piano.poll(now)
            assert desk.probes <= 1
            assert not desk.broken or piano.trouble == "The cable drum rolls."
            events.append((told, piano.name))
        piano.close()
    assert desk.probes == 0
    return events


@given(st.lists(actions, max_size=40), st.none() | st.sampled_from(NAMES))
def test_keys_are_played_only_between_found_and_lost_and_all_are_let_up(script, preferred):
    current, held = None, set()
    for told, name in events_of(script, preferred):
        for event in told:
            if isinstance(event, PianoFound):
                assert current is None
                current = event.name
                assert "Through" not in current
            elif isinstance(event, PianoLost):
                assert event.name == current
                assert not held
                current = None
            elif isinstance(event, PianoRefused):
                assert current is None
            elif isinstance(event, PianosToChoose):
                assert current is None
                assert len(set(event.names)) == len(event.names) > 0
            elif isinstance(event, NotePressed):
                assert current is not None
                assert event.key not in held
                held.add(event.key)
            elif isinstance(event, NoteReleased):
                held.remove(event.key)
        assert name == current


def test_a_port_that_cannot_be_opened_is_told_and_tried_again():
    desk = Desk()
    desk.plugged_in, desk.jammed = {NAMES[0]: None}, True
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        assert piano.poll(0) == [PianoRefused(NAMES[0])]
        assert piano.poll(CHECK_EVERY - 1) == []
        assert "jammed" in piano.trouble
        desk.jammed = False
        assert piano.poll(CHECK_EVERY) == [PianoFound(NAMES[0], "driver")]


def test_names_are_looked_at_once_a_second_at_most():
    desk = Desk()
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        desk.plugged_in = {NAMES[0]: None}
        assert piano.poll(CHECK_EVERY - 1) == []
        assert piano.poll(CHECK_EVERY) == [PianoFound(NAMES[0], "driver")]


def test_a_choice_is_offered_once_and_again_only_when_it_changes():
    desk = Desk()
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        desk.plugged_in = dict.fromkeys(NAMES)
        assert piano.poll(0) == [PianosToChoose(NAMES[:2])]
        assert piano.poll(CHECK_EVERY) == []
        desk.plugged_in["Third 32:0"] = None
        assert piano.poll(2 * CHECK_EVERY) == [PianosToChoose((*NAMES[:2], "Third 32:0"))]


def test_the_other_pianos_are_closed_once_one_is_taken():
    desk = Desk()
    desk.plugged_in = dict.fromkeys(NAMES)
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        desk.act("press", NAMES[1], 60)
        assert piano.poll(1) == [
            PianoFound(NAMES[1], "driver"),
            NotePressed(60, 64, 1, at=1),
        ]
    assert desk.opened[NAMES[0]].close.called
    assert not desk.opened[NAMES[1]].close.called


def test_a_missing_midi_system_is_looked_for_less_often():
    desk = Desk()
    desk.broken = True
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        for now in (0, CHECK_EVERY, RETRY_EVERY - 1, RETRY_EVERY):
            piano.poll(now)
    assert desk.searches == 2


def test_a_piano_long_silent_is_opened_anew_and_its_hanging_keys_are_let_up():
    desk = Desk()
    desk.plugged_in = {NAMES[0]: None}
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        blocked = desk.opened[NAMES[0]]
        desk.act("press", NAMES[0], 60)
        piano.poll(1)
        assert piano.poll(LONGEST_SILENCE) == []
        late = LONGEST_SILENCE + CHECK_EVERY
        assert piano.poll(late) == [NoteReleased(60, 64, 1, late)]
        assert blocked.close.called
        again = desk.opened[NAMES[0]]
        assert piano.poll(late + CHECK_EVERY) == []
        assert piano.poll(late + LONGEST_SILENCE) == []
        assert not again.close.called
        assert piano.name == NAMES[0]


@pytest.mark.parametrize("delta", [None, 0.0])
def test_a_key_that_may_have_lain_unread_for_long_is_told_whatever_the_clock(delta):
    desk = Desk()
    desk.plugged_in = {NAMES[0]: None}
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        receive = desk.plugged_in[NAMES[0]]
        receive([0x90, 60, 64], delta, 10**9, READ_LATE + 1)
        pressed, late = piano.poll(1)
        assert (pressed.key, late) == (60, NotesReadLate(READ_LATE + 1))
        receive([0x90, 62, 64], delta, 2 * 10**9, READ_LATE)
        assert [event.key for event in piano.poll(2)] == [62]


def test_the_drivers_clock_needs_one_key_read_in_time_to_be_sure_of_the_others():
    desk = Desk()
    desk.plugged_in = {NAMES[0]: None}
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        receive = desk.plugged_in[NAMES[0]]
        receive([0x90, 60, 64], 0.0, 10**9, 2_000_000)
        receive([0x90, 62, 64], 1.0, 2 * 10**9 + 10 * READ_LATE, 10 * READ_LATE)
        told = piano.poll(1)
    assert [type(event) for event in told] == [NotePressed, NotePressed]
    assert abs(told[1].at - 2 * 10**9) < 1_000_000


def test_of_more_ports_than_can_be_heard_at_once_the_one_that_is_played_is_taken():
    desk = Desk()
    names = [f"Port {number} {number}:0" for number in range(50)]
    desk.plugged_in = dict.fromkeys(names)
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        assert piano.poll(0) == [PianosToChoose(tuple(names))]
        heard, now, told = set(), 0, []
        while not told:
            open_now = {name for name in desk.opened if not desk.opened[name].close.called}
            assert len(open_now) <= MOST_HEARD
            heard |= open_now
            if names[49] in open_now:
                desk.act("press", names[49], 60)
            now += CHECK_EVERY
            told = piano.poll(now)
            assert now < 12 * CHECK_EVERY
        assert [type(event) for event in told] == [PianoFound, NotePressed]
        assert told[0].name == names[49]
    assert heard == set(names)


def test_an_endless_exclusive_message_on_a_fresh_port_swallows_keys_only_until_it_was_silent():
    desk = Desk()
    desk.plugged_in = {NAMES[0]: None}
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        blocked = desk.opened[NAMES[0]]
        piano.poll(CHECK_EVERY)
        piano.poll(LONGEST_SILENCE + 2 * CHECK_EVERY)
        assert blocked.close.called
        assert piano.name == NAMES[0]


def test_a_port_that_failed_is_opened_anew_and_lost_if_it_cannot_be():
    desk = Desk()
    desk.plugged_in = {NAMES[0]: None}
    with mock.patch("drills.piano.piano.find_driver", desk.find):
        piano = Piano(lambda: None)
        piano.poll(0)
        desk.opened[NAMES[0]].failed = True
        assert piano.poll(CHECK_EVERY) == []
        assert not desk.opened[NAMES[0]].failed
        desk.opened[NAMES[0]].failed, desk.jammed = True, True
        assert piano.poll(2 * CHECK_EVERY) == [PianoLost(NAMES[0])]
