"""Pages of buttons can be used by mouse, by finger, and by the arrow keys alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.card import cards_of
from drills.engrave.layer import Box
from drills.response import Response, Standing, State
from drills.warm_up import Outcome, week
from drills.window.buttons import Button, next_button
from drills.window.first_page import MORE, PRACTISE, ROWS, WARM_UP, FirstPage
from drills.window.scene import Command
from drills.window.warm_up_choice import START, WarmUpChoice
from drills.window.warm_up_outcome import DONE, SET_PLAN, WarmUpOutcome
from landmarks.names import LETTER
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE
from tests.scripted_drill import STARTED, ListedCards

FIVE = built_in_sets()["five"]
CARDS = cards_of(FIVE)
ARROWS = (Command.LEFT, Command.RIGHT, Command.UP, Command.DOWN)
SIZES = [(1024, 768), (1920, 1080), (800, 600), (640, 480)]


def standing(card):
    return ListedCards([]).standing(card, STARTED)


def choice():
    return WarmUpChoice("Robin", CARDS, standing, FIVE, LETTER)


def outcome_page(set_plan=lambda: "Robin.plan.json"):
    outcomes = [
        Outcome(
            card, State.PENCIL, Standing(0.5, 1.0, 0.5, state, ""),
            (Response(card, STARTED, 1.0, correct, card.key),),
        )
        for card, state, correct in zip(
            CARDS, [State.INK, State.PENCIL, State.FADED], [True, False, True], strict=False
        )
    ]  # fmt: skip
    return WarmUpOutcome("Robin", outcomes, week(CARDS, standing, outcomes), LETTER, set_plan)


PAGES = [choice, outcome_page, lambda: FirstPage([f"Pupil {n}" for n in range(9)])]


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("size", SIZES)
def test_every_button_is_reached_by_arrows_from_the_one_that_enter_presses_at_first(page, size):
    scene = page()
    buttons = scene.buttons(*size)
    reached, waiting = set(), [next(b for b in buttons if b.action == scene.focus)]
    while waiting:
        button = waiting.pop()
        if button not in reached:
            reached.add(button)
            waiting += [next_button(buttons, button, arrow) for arrow in ARROWS]
    assert reached == set(buttons)


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("size", SIZES)
def test_buttons_lie_on_the_page_and_apart(page, size):
    buttons = page().buttons(*size)
    for button in buttons:
        box = button.box
        assert box.x >= 0
        assert box.y >= 0
        assert box.right <= size[0]
        assert box.bottom <= size[1]
    for one in buttons:
        for other in buttons:
            if one is not other:
                apart = one.box.right <= other.box.x or other.box.right <= one.box.x
                assert apart or one.box.bottom <= other.box.y or other.box.bottom <= one.box.y


@given(st.integers(0, 3), st.integers(0, 3), st.sampled_from(ARROWS))
def test_in_a_grid_an_arrow_leads_to_the_next_button_that_way(column, row, arrow):
    grid = {(x, y): Button(f"{x}{y}", "", Box(x * 100, y * 50, 90, 40))
            for x in range(4) for y in range(4)}  # fmt: skip
    across, down = {
        Command.LEFT: (-1, 0), Command.RIGHT: (1, 0), Command.UP: (0, -1), Command.DOWN: (0, 1),
    }[arrow]  # fmt: skip
    wanted = grid.get((column + across, row + down), grid[column, row])
    assert next_button(grid.values(), grid[column, row], arrow) == wanted


def press(scene, words, size=(1024, 768)):
    scene.layers(*size)
    button = next(b for b in scene.buttons(*size) if b.words == words)
    scene.touched(*button.middle, 0)


def test_a_warm_up_starts_with_enter_alone():
    scene = choice()
    scene.layers(1024, 768)
    scene.command(Command.ENTER, 0)
    assert (scene.over, scene.started) == (True, True)


def test_the_teacher_narrows_by_touch_and_sees_it_at_once():
    scene = choice()
    press(scene, "bass")
    press(scene, "landmarks")
    press(scene, "8 cards")
    assert {card.clef for card in scene.asked} == {BASS}
    assert not any(card.steps for card in scene.asked)
    assert len(scene.asked) == 8
    press(scene, "bass F")
    assert "F3" not in {str(card.target) for card in scene.asked}
    chosen = {b.words for b in scene.buttons(1024, 768) if b.chosen}
    assert chosen == {"bass C", "middle C", "treble G", "treble C", "bass", "landmarks", "8 cards"}


def test_when_nothing_is_left_it_cannot_start_and_says_so():
    scene = choice()
    press(scene, "treble")
    for landmark in ("middle C", "treble G", "treble C"):
        press(scene, landmark)
    assert not scene.asked
    assert START not in {button.action for button in scene.buttons(1024, 768)}
    scene.act(START)
    assert not scene.over
    press(scene, "treble G")
    assert {card.clef for card in scene.asked} == {TREBLE}


def test_escape_leaves_without_a_warm_up():
    scene = choice()
    scene.command(Command.LEAVE, 0)
    assert (scene.over, scene.started) == (True, False)


def test_one_action_sets_the_home_plan_once():
    told = []
    scene = outcome_page(lambda: told.append("set") or "Robin.plan.json")
    scene.layers(1024, 768)
    scene.command(Command.ENTER, 0)
    assert told == ["set"]
    assert [button.action for button in scene.buttons(1024, 768)] == [DONE]
    scene.act(SET_PLAN)
    assert told == ["set"]
    scene.command(Command.ENTER, 0)
    assert scene.over


def test_the_last_page_can_be_left_without_a_plan():
    told = []
    scene = outcome_page(lambda: told.append("set") or "")
    scene.command(Command.LEAVE, 0)
    assert (scene.over, told) == (True, [])


def test_the_first_page_leads_to_practice_and_to_the_warm_up():
    for words, use in (("Robin", PRACTISE), ("warm-up", WARM_UP)):
        scene = FirstPage(["Robin"])
        press(scene, words)
        assert scene.chosen == ("Robin", use)


def test_further_pupils_are_one_action_away():
    names = [f"Pupil {n}" for n in range(ROWS + 2)]
    scene = FirstPage(names)
    seen = [b.words for b in scene.buttons(1024, 768)]
    press(scene, "more pupils")
    seen += [b.words for b in scene.buttons(1024, 768)]
    assert set(names) <= set(seen)
    scene.act(MORE)
    assert names[0] in [b.words for b in scene.buttons(1024, 768)]


def test_an_arrow_stays_in_its_row_however_near_a_button_of_the_next_one_is():
    wide, far = Button("wide", "", Box(0, 0, 180, 40)), Button("far", "", Box(190, 0, 180, 40))
    near = Button("near", "", Box(100, 50, 60, 40))
    assert next_button([wide, far, near], wide, Command.RIGHT) == far
