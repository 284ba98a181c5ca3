"""A player is followed note by note, whatever she does with time."""

from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from landmarks.following import Follower
from tests.landmarks.following.players import (
    Press,
    Ways,
    lay_over,
    play_by_sight,
    play_evenly,
    play_in_fits,
    play_steadily,
    play_with_rubato,
)
from tests.landmarks.following.scores import Note, scores, tune, two_hands

SCALE = tune(60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79)
seeds = st.integers(0, 2**32)


def follow(notes, playing):
    """The follower after a playing, and what each press was taken for with its place."""
    follower = Follower(notes)
    told = [(follower.hear(press.key, press.ms), follower.position) for press in playing]
    return follower, told


def share_right(notes, playing):
    """The share of presses that play a note after which the place is that note's onset."""
    _follower, told = follow(notes, playing)
    right = [
        place == notes[press.note].onset
        for press, (_heard, place) in zip(playing, told, strict=True)
        if press.note is not None
    ]
    return sum(right) / len(right)


def at_tempo(keys, ms=500.0, start=0.0):
    return [(key, start + number * ms) for number, key in enumerate(keys)]


def test_before_the_first_press_the_player_stands_at_the_first_note():
    late_start = [Note(Fraction(3, 2), 60), Note(Fraction(2), 62)]
    assert Follower(late_start).position == Fraction(3, 2)


def test_a_score_without_notes_cannot_be_followed():
    with pytest.raises(ValueError, match="at least one note"):
        Follower([])


def test_each_note_of_a_scale_is_told_as_it_is_pressed():
    follower = Follower(SCALE)
    told = [follower.hear(key, ms).note for key, ms in at_tempo([note.key for note in SCALE])]
    assert told == list(range(len(SCALE)))


@given(scores(), st.integers(40, 160))
@settings(max_examples=60, deadline=None)
def test_an_exact_playing_of_any_score_is_followed_exactly(notes, per_minute):
    playing = [
        Press(note.key, float(note.onset) * 60000 / per_minute, number)
        for number, note in enumerate(notes)
    ]
    _follower, told = follow(notes, playing)
    assert [heard.note for heard, _place in told] == list(range(len(notes)))


@given(scores(), st.integers(-12, 12), seeds)
@settings(max_examples=40, deadline=None)
def test_music_and_playing_moved_by_an_interval_are_followed_alike(notes, interval, seed):
    playing = play_steadily(notes, Random(seed))
    moved = [Note(note.onset, note.key + interval) for note in notes]
    played_there = [Press(press.key + interval, press.ms, press.note) for press in playing]
    places = [place for _heard, place in follow(notes, playing)[1]]
    assert places == [place for _heard, place in follow(moved, played_there)[1]]


@given(scores(), st.floats(-1e7, 1e7), seeds)
@settings(max_examples=40, deadline=None)
def test_it_does_not_matter_when_the_clock_began(notes, later, seed):
    playing = play_steadily(notes, Random(seed))
    shifted = [Press(press.key, press.ms + round(later), press.note) for press in playing]
    assert [heard.note for heard, _place in follow(notes, playing)[1]] == [
        heard.note for heard, _place in follow(notes, shifted)[1]
    ]


@given(st.integers(1, len(SCALE) - 1), st.floats(1500, 3.6e6))
@settings(max_examples=60, deadline=None)
def test_a_stop_of_any_length_changes_nothing(where, stop):
    pressed = [
        (note.key, number * 500.0 + (stop if number >= where else 0.0))
        for number, note in enumerate(SCALE)
    ]
    follower = Follower(SCALE)
    assert [follower.hear(key, ms).note for key, ms in pressed] == list(range(len(SCALE)))


@given(seeds)
@settings(max_examples=20, deadline=None)
def test_the_keys_of_a_chord_come_in_any_order(seed):
    notes = two_hands(6)
    random = Random(seed)
    playing = [
        Press(note.key, float(note.onset) * 600 + random.uniform(0, 40), number)
        for number, note in enumerate(notes)
    ]
    assert share_right(notes, sorted(playing, key=lambda press: press.ms)) > 0.98


def test_the_left_hand_may_come_before_the_last_key_of_the_right():
    notes = [Note(Fraction(0), 72), Note(Fraction(0), 76), Note(Fraction(1, 4), 48)]
    notes += [Note(Fraction(1, 2), 74)]
    follower = Follower(notes)
    places = []
    for key, ms in ((72, 0), (48, 110), (76, 130), (74, 250)):
        follower.hear(key, ms)
        places.append(follower.position)
    assert places == [0, Fraction(1, 4), 0, Fraction(1, 2)]


def test_a_wrong_key_plays_no_note_and_moves_nobody():
    follower = Follower(SCALE)
    for key, ms in at_tempo([60, 62, 64]):
        follower.hear(key, ms)
    heard = follower.hear(66, 1500)
    assert heard.note is None
    assert follower.position == 2
    assert [follower.hear(key, ms).note for key, ms in at_tempo([67, 69], start=2000.0)] == [4, 5]


def test_a_key_brushed_beside_the_right_one_is_told_apart():
    follower = Follower(SCALE)
    told = [
        follower.hear(key, ms).note
        for key, ms in ((60, 0), (62, 500), (64, 1000), (63, 1015), (65, 1500), (67, 2000))
    ]
    assert told == [0, 1, 2, None, 3, 4]


def test_a_note_left_out_is_passed_over():
    follower = Follower(SCALE)
    told = [
        follower.hear(key, ms).note
        for key, ms in ((60, 0), (62, 500), (64, 1000), (67, 2000), (69, 2500))
    ]
    assert told == [0, 1, 2, 4, 5]


def test_who_goes_back_is_found_within_three_presses():
    follower = Follower(SCALE)
    for key, ms in at_tempo([60, 62, 64, 65, 67, 69]):
        follower.hear(key, ms)
    told = [follower.hear(key, ms).note for key, ms in at_tempo([62, 64, 65, 67], start=4000.0)]
    assert told[2:] == [3, 4]


def test_who_begins_anywhere_is_found_within_a_bar():
    notes = two_hands(32)
    playing = play_evenly(notes, Random(1))
    begun = [press for press in playing if notes[press.note].onset >= 60]
    _follower, told = follow(notes, begun)
    assert all(
        place == notes[press.note].onset
        for press, (_heard, place) in list(zip(begun, told, strict=True))[8:60]
    )


def test_who_leaves_out_a_bar_is_found_within_a_bar():
    notes = two_hands(16)
    playing = [p for p in play_evenly(notes, Random(2)) if not 24 <= notes[p.note].onset < 28]
    after = [number for number, press in enumerate(playing) if notes[press.note].onset >= 28]
    _follower, told = follow(notes, playing)
    assert all(told[n][1] == notes[playing[n].note].onset for n in after[8:])


def test_who_takes_a_repeat_jumps_back():
    notes = two_hands(8)
    once = play_evenly(notes, Random(3))
    length = once[-1].ms + 400
    twice = once + [Press(press.key, press.ms + length, press.note) for press in once]
    _follower, told = follow(notes, twice)
    assert all(
        place == notes[press.note].onset
        for press, (_heard, place) in list(zip(twice, told, strict=True))[len(once) + 6 :]
    )


def test_nothing_is_looked_ahead():
    notes = two_hands(8)
    playing = lay_over(play_steadily(notes, Random(4)), notes, Random(4), Ways())
    whole = [place for _heard, place in follow(notes, playing)[1]]
    half = [place for _heard, place in follow(notes, playing[: len(playing) // 2])[1]]
    assert whole[: len(half)] == half


def test_how_sure_is_a_probability_that_falls_where_two_places_are_alike():
    twin = tune(60, 62, 64, 65, 40, 60, 62, 64, 67)
    follower = Follower(twin)
    known = follower.hear(65, 0).probability
    other = Follower(twin)
    doubtful = other.hear(62, 0).probability
    assert 0 < doubtful < known <= 1


@pytest.mark.parametrize(
    ("player", "least"),
    [
        (play_evenly, 1.0),
        (play_steadily, 0.98),
        (play_with_rubato, 0.98),
        (play_by_sight, 0.95),
        (play_in_fits, 0.9),
    ],
)
def test_every_kind_of_player_is_followed(player, least):
    notes = two_hands(40)
    assert share_right(notes, player(notes, Random(5))) >= least


@pytest.mark.parametrize("player", [play_steadily, play_with_rubato])
def test_a_beginners_ways_are_followed(player):
    notes = two_hands(40)
    random = Random(6)
    assert share_right(notes, lay_over(player(notes, random), notes, random, Ways())) >= 0.93
