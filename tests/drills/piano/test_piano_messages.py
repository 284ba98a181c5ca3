"""Byte values: MIDI 1.0 Detailed Specification 4.2, table 1 (status bytes) and the sections named.

mido, an independent reading of the same tables, checks the rest.
"""

import mido
from hypothesis import given
from hypothesis import strategies as st

from drills.piano.messages import MessageReader, NotePressed, NoteReleased

MIDDLE_C = 60  # MIDI 1.0 Detailed Specification, note numbers: middle C = 60 (3CH)
NOTE_ON_CHANNEL_1 = 0x90
NOTE_OFF_CHANNEL_1 = 0x80

bytes_of_a_message = st.lists(st.integers(0, 255), max_size=12)
data_byte = st.integers(0, 127)


def read(*data: int) -> list:
    return MessageReader().read(data, at=7)


def test_note_on_is_a_pressed_key_with_its_velocity_and_time():
    assert read(0x90, 60, 81) == [NotePressed(MIDDLE_C, 81, channel=1, at=7)]


def test_note_off_is_a_released_key_with_its_release_velocity():
    assert read(0x80, 60, 12) == [NoteReleased(MIDDLE_C, 12, channel=1, at=7)]


def test_note_on_with_velocity_0_is_a_release():
    # "Note-On with velocity 0 is a Note-Off"; without velocity sensing the value is 64 (40H).
    assert read(0x90, 60, 0) == [NoteReleased(MIDDLE_C, 64, channel=1, at=7)]


def test_channels_are_numbered_1_to_16_as_people_do():
    # "0nnnn: channel number 1-16" in the lower half of the status byte
    assert [read(0x90 | nibble, 60, 1)[0].channel for nibble in range(16)] == list(range(1, 17))


def test_active_sensing_clock_and_other_real_time_bytes_are_no_keys():
    # F8 clock, FA start, FB continue, FC stop, FE active sensing, FF reset; F9 and FD undefined
    assert read(*range(0xF8, 0x100)) == []


def test_a_real_time_byte_inside_a_note_does_not_break_the_note():
    # "Real-Time messages may be sent at any time ... even between bytes of a message"
    assert read(0x90, 0xFE, 60, 0xF8, 81) == read(0x90, 60, 81)


def test_pedal_after_touch_programme_and_pitch_bend_are_no_keys():
    assert read(0xB0, 64, 127) == []  # damper pedal is controller 64
    assert read(0xB0, 67, 127) == []  # soft pedal is controller 67
    assert read(0xB0, 123, 0) == []  # all notes off does not lift a finger
    assert read(0xA0, 60, 99) == []
    assert read(0xD0, 99) == []
    assert read(0xC0, 5) == []
    assert read(0xE0, 0, 64) == []


def test_running_status_carries_a_chord():
    # "Running status": the status byte may be left out while it stays the same
    notes = read(0x90, 60, 80, 64, 80, 67, 80, 60, 0)
    assert [note.key for note in notes] == [60, 64, 67, 60]
    assert isinstance(notes[-1], NoteReleased)


def test_running_status_ends_with_a_system_common_message():
    assert read(0x90, 60, 80, 0xF6, 64, 80) == [NotePressed(60, 80, 1, 7)]  # F6: tune request


def test_a_note_may_come_in_parts():
    reader = MessageReader()
    assert reader.read([0x90], 1) == []
    assert reader.read([60], 2) == []
    assert reader.read([81], 3) == [NotePressed(60, 81, 1, 3)]


def test_a_broken_note_costs_only_itself():
    assert read(0x90, 60, 0x90, 64, 80) == [NotePressed(64, 80, 1, 7)]


def test_system_exclusive_holds_no_keys_whether_whole_split_or_never_ended():
    reader = MessageReader()
    assert reader.read([0xF0, 0x7E, 60, 80, 0xF7], 1) == []
    assert reader.read([0xF0, 60, 80, 60], 2) == []
    assert reader.read([80, 60, 80] * 10_000, 3) == []
    # "Any status byte except Real-Time ends System Exclusive"
    assert reader.read([0x90, 60, 80], 4) == [NotePressed(60, 80, 1, 4)]


@given(st.lists(bytes_of_a_message, max_size=30), data_byte, st.integers(1, 127))
def test_no_garbage_raises_and_the_next_note_still_comes_through(garbage, key, velocity):
    reader = MessageReader()
    for data in garbage:
        for note in reader.read(data, 1):
            assert 0 <= note.key <= 127
            assert 1 <= note.channel <= 16
    assert reader.read([0x90, key, velocity], 2) == [NotePressed(key, velocity, 1, 2)]


@given(bytes_of_a_message.flatmap(lambda data: st.tuples(st.just(data), st.integers(0, len(data)))))
def test_where_a_stream_is_cut_makes_no_difference(cut_stream):
    data, cut = cut_stream
    reader = MessageReader()
    assert [*reader.read(data[:cut], 7), *reader.read(data[cut:], 7)] == read(*data)


messages = st.one_of(
    st.builds(
        mido.Message,
        st.sampled_from(["note_on", "note_off"]),
        note=data_byte,
        velocity=data_byte,
        channel=st.integers(0, 15),
    ),
    st.builds(mido.Message, st.just("control_change"), control=data_byte, value=data_byte),
    st.builds(mido.Message, st.just("sysex"), data=st.lists(data_byte, max_size=9).map(tuple)),
    st.sampled_from(["clock", "active_sensing", "tune_request", "reset"]).map(mido.Message),
    st.builds(mido.Message, st.just("songpos"), pos=st.integers(0, 16383)),
    st.builds(mido.Message, st.just("pitchwheel"), pitch=st.integers(-8192, 8191)),
)


@given(st.lists(messages, max_size=20))
def test_whole_messages_read_as_mido_wrote_them(sent):
    data = [byte for message in sent for byte in message.bytes()]
    pressed = [m for m in sent if m.type in ("note_on", "note_off")]
    assert [
        (note.key, note.channel - 1, isinstance(note, NotePressed)) for note in read(*data)
    ] == [(m.note, m.channel, m.type == "note_on" and m.velocity > 0) for m in pressed]
