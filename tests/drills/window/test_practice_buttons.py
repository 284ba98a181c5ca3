"""What a pupil can choose by touch in a session, and at its end."""

import pytest

from drills.app.practice import practice_of
from drills.app.practice_context import practice_context
from drills.app.session_clock import SessionClock
from drills.cards.card import Kind, cards_of, key_cards
from drills.sessions import events
from drills.sessions.practice import Drill
from drills.storage.studio import Studio
from drills.window.pages.card_page import PageSetting
from drills.window.pages.practice_buttons import (
    ENOUGH,
    GO_ON,
    THIS_CLEF,
    at_the_end,
    beside_the_card,
)
from drills.window.pages.practice_scene import PracticeScene, Wish
from drills.window.scene import Command
from landmarks.names import LETTER
from landmarks.stave import BASS, TREBLE
from tests.scripted_drill import BASS_F, FIVE, KEY_G, STARTED, TREBLE_G, ListedCards

SIZES = [(1024, 768), (800, 600), (1920, 1080)]


class Practice:
    """A session on the screen that is touched."""

    def __init__(self, *cards, size=SIZES[0], offered=(TREBLE_G, BASS_F)):
        planner, clock = ListedCards(cards), SessionClock()
        self.setting = PageSetting(*size, False, LETTER, offered)
        self.scene = PracticeScene(
            self.setting, Drill(planner, STARTED), planner, clock, lambda effect: None
        )
        self.now = clock.started_ns
        self.scene.take(events.Begin(), self.now)
        self.scene.drawn(self.now)
        self.size = size
        self.scene.layers(*size)

    def touch(self, action):
        buttons = at_the_end(*self.size) if self.scene.finished else self.beside()
        (button,) = [button for button in buttons if button.action == action]
        self.scene.touched(*button.middle, self.now)
        self.scene.layers(*self.size)

    def beside(self):
        return beside_the_card(self.scene.view, self.setting)


@pytest.mark.parametrize("size", SIZES)
def test_enough_ends_the_session_and_enough_once_more_leaves(size):
    practice = Practice(TREBLE_G, BASS_F, size=size)
    practice.touch(ENOUGH)
    assert practice.scene.finished
    assert not practice.scene.over
    practice.touch(ENOUGH)
    assert practice.scene.over
    assert practice.scene.wish is Wish.STOP


def test_a_touch_beside_the_buttons_leaves_nothing():
    practice = Practice(TREBLE_G, BASS_F)
    practice.touch(ENOUGH)
    practice.scene.touched(512, 300, practice.now)
    assert not practice.scene.over


def test_going_on_is_wished_by_touch_or_by_enter():
    touched, entered = Practice(TREBLE_G), Practice(TREBLE_G)
    for practice in (touched, entered):
        practice.touch(ENOUGH)
    touched.touch(GO_ON)
    entered.scene.command(Command.ENTER, entered.now)
    for practice in (touched, entered):
        assert practice.scene.over
        assert practice.scene.wish is Wish.GO_ON
        assert practice.scene.only is None


def test_only_the_clef_of_the_card_goes_on_when_it_is_wished_for():
    practice = Practice(BASS_F, TREBLE_G)
    practice.touch(THIS_CLEF)
    assert practice.scene.over
    assert practice.scene.wish is Wish.THIS_CLEF
    assert practice.scene.only == BASS


@pytest.mark.parametrize(
    ("card", "offered"), [(KEY_G, (TREBLE_G, BASS_F)), (TREBLE_G, (TREBLE_G,))]
)
def test_a_clef_is_offered_only_where_there_is_one_to_choose(card, offered):
    practice = Practice(card, offered=offered)
    assert [button.action for button in practice.beside()] == [ENOUGH]


@pytest.mark.parametrize("size", SIZES)
def test_the_buttons_beside_a_card_lie_on_it_and_apart(size):
    practice = Practice(TREBLE_G, BASS_F, size=size)
    enough, clef = (button.box for button in practice.beside())
    card = practice.setting.card_box
    for box in (enough, clef):
        assert card.x <= box.x
        assert box.right <= card.right
        assert card.y <= box.y
        assert box.bottom <= card.bottom
    assert clef.right < enough.x


@pytest.mark.parametrize("clef", [TREBLE, BASS])
def test_with_one_clef_alone_nothing_is_asked_in_the_other(tmp_path, clef):
    pupil = Studio(tmp_path).pupil("Robin")
    practice = practice_of(pupil, practice_context(pupil), 1, only=clef)
    now = SessionClock().started
    asked = []
    for _ in range(8):
        card = practice.chooser.next(now)
        assert card is not None
        asked.append(card)
    assert {card.clef for card in asked if card.kind is not Kind.KEY} <= {clef}
    assert set(asked) <= {*cards_of(FIVE), *key_cards(FIVE)}
