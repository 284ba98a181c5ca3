"""What is read out: a new page from its title, then only what is new, and never an answer."""

from drills.app.session_clock import SessionClock
from drills.cards.card import cards_of, key_cards
from drills.cards.help import Help
from drills.engrave import palette
from drills.engrave.layer import text
from drills.learning.response import State
from drills.sessions import events
from drills.sessions.practice import Drill
from drills.sessions.view import View
from drills.storage.settings import Settings
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.first_page import FirstPage
from drills.window.pages.settings_page import TURN, SettingsPage
from drills.window.pages.warm_up_scene import WarmUpScene
from drills.window.read_out import ReadOut, read_out
from drills.window.scene import Command
from landmarks.answer import judge
from landmarks.names import LETTER
from landmarks.sets import built_in_sets
from tests.scripted_drill import ListedCards

SIZE = (1024, 768)
FIVE = built_in_sets()["five"]
TREBLE_G = next(card for card in cards_of(FIVE) if card.named(LETTER) == "treble G")
SETTING = PageSetting(*SIZE, False, LETTER, (*cards_of(FIVE), *key_cards(FIVE)))


def of(page):
    return read_out(page.layers(*SIZE), page.in_focus)


def practised(**fields):
    view = View(showing=1, card=TREBLE_G, state=State.PENCIL, **fields)
    return read_out(practice_page(view, SETTING), "")


def test_a_new_page_is_read_from_its_title_and_the_button_in_focus():
    page = FirstPage({"Robin": "boat", "Kim": "kite"}, True)
    assert of(page).since(None) == "who is playing?, Robin"


def test_only_what_is_new_is_read():
    page = FirstPage({"Robin": "boat", "Kim": "kite"}, True)
    before = of(page)
    assert of(page).since(before) == ""
    page.command(Command.RIGHT, 0)
    assert of(page).since(before) == "Kim"


def test_a_value_is_read_with_what_it_sets_and_whether_it_is_chosen():
    page = SettingsPage("Robin", Settings(), lambda name: FIVE, lambda settings: None, True)
    page.layers(*SIZE)
    page.act(TURN)
    page.focus = "size/1"
    before = of(page)
    assert before.focus == "large, size"
    page.act("size/1")
    assert of(page).since(before).startswith("large, chosen, size")


def test_a_card_does_not_tell_its_answer_until_the_name_is_given_as_help():
    assert practised().since(None) == ""
    assert practised(help=Help.NAME).since(practised()) == "treble G"


def test_a_wrong_note_is_told_by_its_distance_and_its_name():
    wrong = judge(TREBLE_G.target, TREBLE_G.clef, TREBLE_G.key + 4)
    assert practised(answer=wrong).since(practised()) == "too high – 2 steps down, you played B"


def test_a_found_note_is_told_by_its_name():
    right = judge(TREBLE_G.target, TREBLE_G.clef, TREBLE_G.key)
    assert practised(answer=right).since(practised()) == "treble G"


def test_the_teachers_notes_beside_the_card_are_not_read_out():
    clock, planner = SessionClock(), ListedCards([TREBLE_G, TREBLE_G])
    drill = Drill(planner, clock.started)
    scene = WarmUpScene(SETTING, drill, planner, clock, lambda effect: None)
    start = clock.started_ns
    scene.take(events.Begin(), start)
    scene.drawn(start)
    scene.take(events.KeyPressed(TREBLE_G.key), start + 1_200_000_000)
    scene.take(events.TimePassed(), start + 1_300_000_000)
    scene.command(Command.NOTES, start + 1_300_000_000)
    scene.layers(*SIZE)
    page = scene.layers(*SIZE)
    assert any("1.2 s" in layer.markup for layer in page)
    assert read_out(page, scene.in_focus).words == ("treble G",)


def test_words_that_were_made_to_fit_are_read_whole():
    long = "a nickname that is much too long for the room that there is for it"
    layer = text(long, 100, 100, 20, palette.INK, within=60)
    assert long not in layer.markup
    assert read_out([layer], "") == ReadOut((long,), "")
