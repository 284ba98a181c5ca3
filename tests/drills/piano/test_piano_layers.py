"""One key on two channels is one key (layered sounds; common practice, no source)."""

from hypothesis import given
from hypothesis import strategies as st

from drills.piano.layers import LAYER_WINDOW, HeldKeys
from drills.piano.messages import NotePressed, NoteReleased

MILLISECOND = 1_000_000


def merge(*notes):
    held = HeldKeys()
    return [merged for note in notes for merged in held.merge(note)]


def press(key, channel=1, ms=0.0):
    return NotePressed(key, 80, channel, round(ms * MILLISECOND))


def release(key, channel=1, ms=0.0):
    return NoteReleased(key, 64, channel, round(ms * MILLISECOND))


def test_a_layered_key_is_pressed_once_and_released_once():
    layered = [press(60, 1, 0), press(60, 2, 1), release(60, 1, 90), release(60, 2, 91)]
    assert merge(*layered) == [press(60, 1, 0), release(60, 1, 90)]


def test_three_layers_whose_releases_come_in_another_order_are_one_key():
    layered = [press(60, 1, 0), press(60, 2, 1), press(60, 4, 2)]
    lifted = [release(60, 4, 90), release(60, 1, 91), release(60, 2, 92)]
    assert merge(*layered, *lifted) == [press(60, 1, 0), release(60, 4, 90)]


def test_a_layered_key_can_be_repeated():
    once = [press(60, 1, 0), press(60, 2, 1), release(60, 1, 70), release(60, 2, 71)]
    again = [press(60, 1, 140), press(60, 2, 141), release(60, 2, 200), release(60, 1, 201)]
    assert merge(*once, *again) == [once[0], once[2], again[0], again[2]]


def test_a_key_alone_on_any_channel_counts():
    assert merge(press(60, 10), release(60, 10, 50)) == [press(60, 10), release(60, 10, 50)]


def test_two_keys_at_once_are_two_keys():
    assert merge(press(60, 1), press(62, 2)) == [press(60, 1), press(62, 2)]


def test_a_release_on_a_channel_that_was_not_pressed_is_nothing():
    assert merge(press(60, 1, 0), release(60, 3, 30)) == [press(60, 1, 0)]
    assert merge(release(60, 1, 30)) == []


def test_a_second_press_after_a_lost_release_lets_the_key_up_first():
    assert merge(press(60, 1, 0), press(60, 1, 300)) == [
        press(60, 1, 0),
        release(60, 1, 300),
        press(60, 1, 300),
    ]


def test_another_channel_after_the_layer_window_is_another_press():
    late = LAYER_WINDOW / MILLISECOND + 1
    assert merge(press(60, 1, 0), press(60, 2, late))[-1] == press(60, 2, late)


def test_pulling_the_cable_lets_every_held_key_up_once():
    held = HeldKeys()
    for note in (press(64), press(60), press(60, 2, 1), press(62), release(62, 1, 2)):
        held.merge(note)
    assert held.release_all(5 * MILLISECOND) == [release(60, 1, 5), release(64, 1, 5)]
    assert held.release_all(6 * MILLISECOND) == []


notes = st.builds(
    lambda kind, key, channel: (kind, key, channel),
    st.sampled_from([NotePressed, NoteReleased]),
    st.integers(59, 61),
    st.integers(1, 3),
)


@given(st.lists(st.tuples(notes, st.integers(0, 2 * LAYER_WINDOW)), max_size=60))
def test_presses_and_releases_of_a_key_always_take_turns(stream):
    held, now, merged = HeldKeys(), 0, []
    for (kind, key, channel), pause in stream:
        now += pause
        merged += held.merge(kind(key, 64, channel, now))
    merged += held.release_all(now)
    for key in (59, 60, 61):
        kinds = [type(note) for note in merged if note.key == key]
        assert kinds == [NotePressed, NoteReleased] * (len(kinds) // 2)
