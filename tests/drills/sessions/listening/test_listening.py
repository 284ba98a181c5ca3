"""Two minutes of listening: what is sounded, what is taken in, and what is kept."""

from itertools import accumulate, pairwise

import pytest

from drills.learning.prior_knowledge.finding import Band, Item
from drills.sessions.events import AskAgain, PianoLost, Skip, SoundIt, Stop
from drills.sessions.listening.effects import ItemBegun
from drills.sessions.listening.listening import ITEMS
from drills.sessions.listening.parts import DISTANCES
from drills.sessions.listening.view import Stage
from drills.sessions.view import Phase
from drills.storage.session_file import read_session
from tests.drills.sessions.listening.played_listening import PlayedListening
from tests.drills.sessions.test_session_schema import recorded
from tests.landmarks.tappers import chance_of, go_on
from tests.session_schema import hold

EVEN = [650.0 * number for number in range(1, 18)]
LONG_SHORT_SHORT_LONG = [0, 800, 1200, 1600, 2400]


def swaying(spread, seed=1):
    """Taps after the last beat that stray by a share of the beat."""
    beats = [650.0 * number for number in range(-7, 1)]
    return go_on(beats, 17, chance_of(seed), clock=spread, delay=0)


def test_eight_beats_sound_at_their_times_and_the_pupil_goes_on():
    played = PlayedListening([Item.PULSE])
    assert played.session.view.stage is Stage.READY
    played.keep_pulse(EVEN)
    times = [t for t, _key in played.sounded()]
    assert len(times) == 8
    assert {round(later - earlier) for earlier, later in pairwise(times)} == {650}
    found = played.heard(Item.PULSE)
    assert (found.band, found.suggests) == (Band.THERE, "yes")
    assert found.figures["taps"] == 16
    assert found.figures["spread"] == pytest.approx(0, abs=1e-6)


def test_the_teacher_gives_the_beats_on_a_key_of_hers():
    played = PlayedListening([Item.PULSE])
    beats = list(accumulate([700.0] * 7, initial=1000.0))
    for at in beats:
        played.press(at, 40)
        if at > beats[2]:
            played.press(at + 60, 67)
    for at in accumulate([700.0] * 12, initial=beats[-1] + 700):
        played.press(at, 67)
    played.pass_time()
    found = played.heard(Item.PULSE).figures
    assert (found["beat_ms"], found["taps"], found["along_taps"]) == (700, 12, 5)
    assert played.sounded() == []


@pytest.mark.parametrize(
    ("spread", "band"), [(0.03, Band.THERE), (0.11, Band.UNSURE), (0.3, Band.NOT_YET)]
)
def test_a_pulse_is_told_as_a_band_with_its_figures(spread, band):
    """Of ten tappers of one evenness, most are told by one band; none by the opposite one."""
    opposite = {Band.THERE: Band.NOT_YET, Band.NOT_YET: Band.THERE}.get(band)
    bands = []
    for seed in range(10):
        played = PlayedListening([Item.PULSE])
        played.keep_pulse(swaying(spread, seed))
        found = played.heard(Item.PULSE)
        assert found.figures["spread_low"] < found.figures["spread"] < found.figures["spread_high"]
        bands.append(found.band)
    assert bands.count(band) >= 6
    assert opposite not in bands


def test_beats_that_are_broken_off_begin_anew():
    played = PlayedListening([Item.PULSE])
    for at in (500, 1100, 1700):
        played.press(at, 40)
    played.pass_time()
    assert played.session.view.stage is Stage.READY
    played.keep_pulse(EVEN)
    assert played.heard(Item.PULSE).band is Band.THERE


def test_a_pupil_who_does_not_go_on_is_not_judged():
    played = PlayedListening([Item.PULSE])
    played.keep_pulse([])
    found = played.heard(Item.PULSE)
    assert (found.band, found.suggests) == (Band.UNSURE, None)
    assert "spread" not in found.figures


@pytest.mark.parametrize(
    ("playing", "band", "figures"),
    [
        ([0, 640, 960, 1280, 1920], Band.THERE, {"kept": 4, "in_order": 3}),
        ([0, 800, 1200, 2000], Band.UNSURE, {"kept": 2, "left_out": 1}),
        ([], Band.NOT_YET, {"kept": 0}),
    ],
)
def test_a_rhythm_is_played_back_in_whatever_tempo(playing, band, figures):
    played = PlayedListening([Item.ECHO])
    played.echo(LONG_SHORT_SHORT_LONG, playing)
    if not playing:
        assert played.session.view.stage is Stage.ANSWER
        played.press(played.now + 3000)
        played.pass_time()
    found = played.heard(Item.ECHO)
    assert found.band is band
    assert figures.items() <= found.figures.items()


def test_two_keys_are_no_rhythm_and_the_teacher_begins_again():
    played = PlayedListening([Item.ECHO])
    played.echo([0, 400], [])
    assert played.session.view.stage is Stage.READY


def test_tones_come_nearer_together_and_sound_again_when_asked():
    played = PlayedListening([Item.DIRECTION])
    played.move([None] * len(DISTANCES))
    keys = [key for _t, key in played.sounded()]
    apart = [abs(high - low) for low, high in zip(keys[::2], keys[1::2], strict=True)]
    assert apart == list(DISTANCES)
    found = played.heard(Item.DIRECTION)
    assert (found.band, found.figures["nearest"]) == (Band.THERE, 2)
    # By hand: one chance in three, six times.
    assert found.figures["by_guessing"] == pytest.approx((1 / 3) ** 6, abs=1e-4)


def test_the_same_two_tones_can_be_heard_once_more():
    played = PlayedListening([Item.DIRECTION])
    played.do(SoundIt())
    played.pass_time()
    played.press(played.now + 200)
    played.do(SoundIt())
    played.pass_time()
    keys = [key for _t, key in played.sounded()]
    assert keys[:2] == keys[2:]
    assert played.session.view.stage is Stage.ANSWER


def test_whoever_always_goes_up_is_not_taken_to_hear_it():
    played = PlayedListening([Item.DIRECTION], seed=4)
    played.move([1] * len(DISTANCES))
    assert played.heard(Item.DIRECTION).band is not Band.THERE


def test_each_item_can_be_skipped_and_repeated():
    played = PlayedListening()
    played.do(Skip())
    played.show()
    played.echo(LONG_SHORT_SHORT_LONG, LONG_SHORT_SHORT_LONG)
    played.do(AskAgain())
    played.show()
    assert played.session.view.stage is Stage.READY
    begun = [(e.item, e.attempt) for e in played.effects if isinstance(e, ItemBegun)]
    assert begun == [(Item.PULSE, 1), (Item.ECHO, 1), (Item.ECHO, 2)]
    played.do(Skip())
    played.show()
    played.do(Skip())
    assert played.session.view.phase is Phase.FINISHED


def test_a_lost_cable_begins_the_item_anew():
    played = PlayedListening([Item.ECHO])
    played.press(1000)
    played.do(PianoLost("Stage piano"))
    assert played.session.view.stage is Stage.READY


def test_everything_is_kept_as_the_schema_says_and_read_again(tmp_path):
    played = PlayedListening(ITEMS)
    played.keep_pulse(EVEN)
    played.do(Skip())
    played.show()
    played.echo(LONG_SHORT_SHORT_LONG, LONG_SHORT_SHORT_LONG)
    played.do(Skip())
    played.show()
    played.move([None] * len(DISTANCES))
    played.do(Stop())
    path = recorded(played.effects, tmp_path)
    lines = hold(path)
    assert [line["band"] for line in lines if line.get("event") == "heard"] == ["there"] * 3
    assert read_session(path).responses == ()
