"""A found note turns from pencil to ink before the eyes, gently, and only if that is set."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.app.session_clock import SessionClock
from drills.engrave.layer import page_png
from drills.learning.response import State
from drills.sessions import events
from drills.sessions.practice import Drill
from drills.window.fade_in import SHARES, STEP_NS, FadeIn
from drills.window.pages.card_page import PageSetting
from drills.window.pages.practice_scene import PracticeScene
from landmarks.names import LETTER
from tests.drawn import pixels
from tests.scripted_drill import KEY_G, STARTED, TREBLE_G, ListedCards

SIZE = (800, 600)
MS = 1_000_000
SECOND = 1000 * MS


class Practice:
    """A session with one card, which a test leads through time."""

    def __init__(self, card=TREBLE_G, motion=True, state=State.PENCIL):
        planner = ListedCards([card], state)
        clock = SessionClock()
        self.now = clock.started_ns
        setting = PageSetting(*SIZE, False, LETTER, (card,), motion=motion)
        drill = Drill(planner, STARTED)
        self.scene = PracticeScene(setting, drill, planner, clock, lambda effect: None)
        self.scene.take(events.Begin(), self.now)
        self.scene.drawn(self.now)

    def press(self, key, after=SECOND):
        self.now += after
        self.scene.take(events.KeyPressed(key), self.now)

    def wait(self, nanoseconds):
        self.now += nanoseconds
        self.scene.take(events.TimePassed(), self.now)

    def layers(self):
        return self.scene.layers(*SIZE)

    def darkness(self):
        picture = pixels(page_png(*SIZE, self.layers()))[:, :, :3]
        card = picture[: SIZE[0], : SIZE[1] // 2]
        return float(255 - card.mean())


def test_the_note_darkens_step_by_step_and_then_rests():
    practice = Practice()
    seen = [practice.darkness()]
    practice.press(TREBLE_G.key)
    seen.append(practice.darkness())
    for _ in SHARES:
        practice.wait(STEP_NS)
        seen.append(practice.darkness())
    assert seen == sorted(set(seen))
    practice.wait(STEP_NS)
    assert practice.darkness() == seen[-1]


def test_at_the_end_it_is_drawn_as_without_motion():
    moved, still = Practice(), Practice(motion=False)
    for practice in (moved, still):
        practice.press(TREBLE_G.key)
    assert set(moved.layers()) != set(still.layers())
    for practice in (moved, still):
        practice.wait(len(SHARES) * STEP_NS)
    assert set(moved.layers()) == set(still.layers())


def test_it_is_all_over_in_a_quarter_of_a_second_and_only_ever_darkens():
    # WCAG 2.2, 2.3.1: no more than three flashes, pairs of opposing changes, within a second.
    assert len(SHARES) * STEP_NS <= 250 * MS
    assert list(SHARES) == sorted(SHARES)


def test_the_window_is_woken_for_each_step_and_not_again():
    practice = Practice()
    practice.press(TREBLE_G.key)
    found_at = practice.now
    woken = []
    for _ in SHARES:
        woken.append(practice.scene.due_ns - found_at)
        practice.wait(practice.scene.due_ns - practice.now)
    assert woken == [STEP_NS * step for step in range(1, len(SHARES) + 1)]
    assert practice.scene.due_ns - found_at > 2 * woken[-1]


def test_without_motion_nobody_is_woken_for_it():
    practice = Practice(motion=False)
    practice.press(TREBLE_G.key)
    practice.wait(STEP_NS)
    before = practice.layers()
    practice.wait(STEP_NS)
    assert practice.layers() is before


@pytest.mark.parametrize("motion", [True, False])
def test_what_is_shown_when_the_right_key_is_pressed_was_engraved_while_she_thought(motion):
    practice = Practice(motion=motion)
    ahead = set(practice.scene.likely_layers())
    before = set(practice.layers())
    practice.press(TREBLE_G.key)
    assert set(practice.layers()) <= ahead | before


def test_a_wrong_key_turns_nothing_to_ink():
    practice = Practice()
    practice.press(TREBLE_G.key + 2)
    wrong = practice.layers()
    practice.wait(STEP_NS // 2)
    assert practice.layers() is wrong


@pytest.mark.parametrize(("card", "state"), [(KEY_G, State.PENCIL), (TREBLE_G, State.INK)])
def test_what_is_no_pencilled_note_is_drawn_at_once(card, state):
    practice = Practice(card, state=state)
    practice.press(card.key)
    assert not any("opacity" in layer.markup for layer in practice.layers())


@given(st.lists(st.integers(-SECOND, SECOND), min_size=1))
def test_ink_never_goes_back_to_pencil_however_the_clocks_of_piano_and_window_differ(moments):
    inking = FadeIn()
    shares = []
    for moment in moments:
        inking.pass_time(True, moment)
        shares.append(inking.share)
    assert shares == sorted(shares)


@given(st.lists(st.tuples(st.booleans(), st.integers(0, SECOND)), min_size=1))
def test_a_new_card_begins_in_pencil(moments):
    inking = FadeIn()
    for found, moment in moments:
        inking.pass_time(found, moment)
    inking.pass_time(False, SECOND)
    assert inking.due_ns is None
    inking.pass_time(True, 2 * SECOND)
    assert inking.share == SHARES[0]
