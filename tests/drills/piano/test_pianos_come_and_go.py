"""Whatever is plugged in, pulled out, fails or is played, the events tell one coherent story."""

from unittest import mock

from hypothesis import given
from hypothesis import strategies as st

from drills.piano import (
    NotePressed,
    NoteReleased,
    Piano,
    PianoFound,
    PianoLost,
    PianoRefused,
    PianosToChoose,
)
from drills.piano.connection import LONGEST_SILENCE
from drills.piano.driver import NoMidiError
from drills.piano.piano import CHECK_EVERY, RETRY_EVERY

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
        self.opened[name] = mock.Mock()
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


def test_a_piano_long_silent_is_opened_anew_once_and_its_hanging_keys_are_let_up():
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
        assert piano.poll(3 * late) == []
        assert not again.close.called
        assert piano.name == NAMES[0]
