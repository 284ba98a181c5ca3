"""Port names are in the form of ALSA, of JACK and of its ALSA bridge; the devices are invented."""

from hypothesis import given
from hypothesis import strategies as st

from drills.piano.ports import choose, describe, find, stable_name, usable_names

THROUGH = "Midi Through:Midi Through Port-0 14:0"
PIANO = "Digital Piano:Digital Piano MIDI 1 20:0"
PIANO_AGAIN = "Digital Piano:Digital Piano MIDI 1 24:0"
KEYBOARD = "Small Keys:Small Keys MIDI 1 28:0"


def test_a_name_is_the_same_when_the_piano_comes_back_under_another_number():
    assert stable_name(PIANO) == stable_name(PIANO_AGAIN) == "Digital Piano:Digital Piano MIDI 1"
    bridged = "a2j:Digital Piano [20] (capture): Digital Piano MIDI 1"
    assert stable_name(bridged) == stable_name(bridged.replace("[20]", "[24]"))


def test_the_number_in_a_model_name_stays():
    assert stable_name("DP 45") == "DP 45"


def test_two_inputs_of_one_piano_are_told_apart():
    assert stable_name("DP:DP MIDI 1 20:0") != stable_name("DP:DP MIDI 2 20:1")


def test_through_ports_and_our_own_are_no_pianos():
    others = ["a2j:Midi Through [14] (capture): Midi Through Port-0", "IAC Driver Bus 1"]
    assert usable_names([THROUGH, PIANO, *others, "Landmark drills:piano"]) == [PIANO]


def test_the_only_piano_is_taken():
    assert choose(usable_names([THROUGH, PIANO]), None) == PIANO


def test_the_only_piano_is_taken_though_another_was_used_last():
    assert choose([KEYBOARD], PIANO) == KEYBOARD


def test_the_piano_used_last_is_taken_among_several_even_under_another_number():
    assert choose([KEYBOARD, PIANO_AGAIN], PIANO) == PIANO_AGAIN
    assert choose([KEYBOARD, PIANO_AGAIN], stable_name(PIANO)) == PIANO_AGAIN


def test_of_two_alike_the_exact_name_is_taken():
    assert choose([PIANO, PIANO_AGAIN], PIANO_AGAIN) == PIANO_AGAIN


def test_among_several_unknown_ones_none_is_taken():
    assert choose([KEYBOARD, PIANO], None) is None
    assert choose([KEYBOARD, PIANO], "Gone:Gone MIDI 1 32:0") is None


def test_without_pianos_none_is_taken():
    assert choose([], PIANO) is None


def test_every_port_is_told_with_its_reason():
    why = {port.name: port.why for port in describe([THROUGH, KEYBOARD, PIANO], PIANO)}
    assert "only hands messages" in why[THROUGH]
    assert "not taken" in why[KEYBOARD]
    assert "used last" in why[PIANO]
    assert "only piano" in describe([PIANO], None)[0].why
    assert all("one of 2" in port.why for port in describe([PIANO, KEYBOARD], None))


@given(st.lists(st.text()), st.none() | st.text())
def test_what_is_chosen_is_always_one_of_the_names(names, preferred):
    usable = usable_names(names)
    chosen = choose(usable, preferred)
    assert chosen is None or chosen in usable
    assert [port.name for port in describe(names, preferred) if port.usable] == usable
    if len(usable) == 1 or (found := find(preferred, usable)) is not None:
        assert chosen == (usable[0] if len(usable) == 1 else found)
