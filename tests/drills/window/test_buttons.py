"""Pages of buttons can be used by mouse, by finger, and by the arrow keys alone."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.app.session_clock import SessionClock
from drills.app.studio_defaults import days_of_practice
from drills.cards.card import cards_of
from drills.engrave.layer import Box
from drills.learning.response import Response, Standing, State
from drills.learning.warm_up import Outcome, week
from drills.storage.settings import Settings
from drills.storage.studio import Studio
from drills.window.pages.buttons import Button, next_button
from drills.window.pages.files_page import FilesPage
from drills.window.pages.first_page import NEW, PUPIL, TEACHER, TILES, FirstPage
from drills.window.pages.list_page import ListPage
from drills.window.pages.marks import MARKS, marks_of
from drills.window.pages.message_page import MessagePage
from drills.window.pages.new_pupil import NewPupilPage, PicturePage
from drills.window.pages.settings_page import SettingsPage
from drills.window.pages.teacher_page import NEED_PUPIL, ROWS, TeacherPage
from drills.window.pages.turning import EARLIER, MORE
from drills.window.pages.warm_up_choice import START, WarmUpChoice
from drills.window.pages.warm_up_outcome import DONE, SET_PLAN, WarmUpOutcome
from drills.window.scene import Command
from landmarks.names import LETTER
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE
from tests.faults.pupil import recorded_session
from tests.scripted_drill import STARTED, ListedCards

FIVE = built_in_sets()["five"]
CARDS = cards_of(FIVE)
ARROWS = (Command.LEFT, Command.RIGHT, Command.UP, Command.DOWN)
SCORES = Path(__file__).parents[3] / "sample_sessions" / "scores"
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


def marks(count):
    return marks_of({f"Pupil {n}": "" for n in range(count)})


PAGES = [
    choice,
    outcome_page,
    *(lambda count=count: FirstPage(marks(count)) for count in range(1, 10)),
    lambda: NewPupilPage([], []),
    lambda: NewPupilPage(["Robin"], list(MARKS)[:13], teacher=True),
    lambda: TeacherPage({}, "", None),
    lambda: TeacherPage(marks(11), "Pupil 10", "a piano"),
    lambda: MessagePage("done?", ["One sentence."], [("keep", "keep"), ("remove", "remove")]),
    lambda: SettingsPage("Robin", Settings(), lambda name: FIVE, lambda settings: None, True),
    lambda: ListPage("which tune?", "book.abc", [f"{n}  a tune" for n in range(1, 40)]),
    lambda: FilesPage("which piece?", SCORES, [".musicxml"], takes_folders=True),
]


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


def test_the_first_page_leads_to_practice_to_a_new_pupil_and_to_the_teacher():
    for words, chosen in (("Robin", f"{PUPIL}Robin"), ("new", NEW), ("teacher", TEACHER)):
        scene = FirstPage(marks_of({"Robin": ""}))
        press(scene, words)
        assert scene.chosen == chosen


def test_further_pupils_are_one_action_away():
    names = list(marks(TILES + 2))
    scene = FirstPage(marks(TILES + 2))
    seen = [b.words for b in scene.buttons(1024, 768)]
    press(scene, "page 1 of 2 ›")
    seen += [b.words for b in scene.buttons(1024, 768)]
    assert set(names) <= set(seen)
    for action in (MORE, EARLIER, EARLIER):
        scene.act(action)
    assert names[0] in [b.words for b in scene.buttons(1024, 768)]


@given(st.dictionaries(st.text(min_size=1, max_size=8), st.sampled_from(["", *MARKS]), max_size=30))
def test_a_pupil_keeps_her_mark_and_gets_one_that_nobody_has_while_there_are_any(kept):
    given_marks = marks_of(kept)
    assert given_marks.keys() == kept.keys()
    assert all(given_marks[name] == mark for name, mark in kept.items() if mark)
    new = [given_marks[name] for name, mark in kept.items() if not mark]
    if len(kept) <= len(MARKS):
        assert len(set(new)) == len(new)
        assert not set(new) & set(kept.values())


def test_a_child_who_does_not_read_becomes_a_pupil_with_one_touch():
    scene = NewPupilPage([], [])
    press(scene, "Boat")
    assert (scene.over, scene.chosen) == (True, ("Boat", "boat"))


def test_a_typed_nickname_goes_with_the_mark_that_is_touched():
    scene = NewPupilPage(["Robin"], ["star"])
    scene.typed("Rob<>/in")
    scene.command(Command.BACK, 0)
    scene.typed("n")
    scene.act("mark/moon")
    assert scene.chosen == ("Robin 2", "moon")


def test_a_mark_that_somebody_has_is_not_offered():
    shown = {b.action for b in NewPupilPage(["Robin"], ["star"]).buttons(1024, 768)}
    assert "mark/moon" in shown
    assert "mark/star" not in shown


def test_the_teacher_takes_a_pupil_in_hand_and_then_chooses_what_to_do():
    scene = TeacherPage(marks(3), "Pupil 0", None)
    press(scene, "Pupil 2")
    assert not scene.over
    press(scene, "how reading stands")
    assert (scene.over, scene.chosen, scene.pupil) == (True, "review", "Pupil 2")


def test_without_pupils_the_teacher_is_offered_only_what_needs_none():
    shown = {b.action for b in TeacherPage({}, "", None).buttons(1024, 768)}
    assert "gather" in shown
    assert not shown & NEED_PUPIL


def test_every_pupil_is_within_reach_of_the_teacher():
    scene, seen = TeacherPage(marks(ROWS + 3), "Pupil 0", None), set()
    for page in (1, 2):
        seen |= {b.words for b in scene.buttons(1024, 768)}
        press(scene, f"page {page} of 2 ›")
    assert set(marks(ROWS + 3)) <= seen


def test_of_thirty_pupils_one_is_found_by_a_few_letters_whatever_their_accents():
    thirty = marks(29) | {"Zoë": "star"}
    scene = TeacherPage(thirty, "Pupil 0", None)
    scene.typed("zoe")
    assert [b.words for b in scene.buttons(1024, 768) if b.outline] == ["Zoë"]
    assert scene.pupil == "Zoë"
    for _ in "zoe":
        scene.command(Command.BACK, 0)
    rows = [b.words for b in scene.buttons(1024, 768) if b.outline]
    assert "Zoë" in rows
    assert len(rows) > 1
    scene.typed("nobody")
    press(scene, "done")
    assert scene.over


def test_beside_each_pupil_stands_when_she_practised_last(tmp_path):
    studio = Studio(tmp_path)
    for nickname in ("Robin", "Wren"):
        studio.pupil(nickname)
    recorded_session(
        studio, "Robin", 1, clock=SessionClock(datetime(2026, 3, 2, 16, tzinfo=UTC), 0)
    )
    assert days_of_practice(studio) == {"Robin": date(2026, 3, 2)}
    scene = TeacherPage(marks_of({"Robin": "", "Wren": ""}), "Wren", None, {"Robin": "2 Mar"})
    assert [b.words for b in scene.buttons(1024, 768) if b.outline] == ["Robin · 2 Mar", "Wren"]


def test_a_pupil_changes_her_picture_to_one_that_nobody_has():
    scene = PicturePage("Robin", {"star"})
    shown = {b.action for b in scene.buttons(1024, 768)}
    assert "mark/star" not in shown
    scene.typed("x")
    press(scene, "Kite")
    assert scene.chosen[1] == "kite"


def test_the_fortieth_tune_of_a_book_is_within_reach():
    scene = ListPage("which tune?", "book.abc", [f"tune {n}" for n in range(40)])
    press(scene, "page 1 of 3 ›")
    press(scene, "page 2 of 3 ›")
    press(scene, "tune 39")
    assert (scene.over, scene.taken) == (True, 39)


def test_a_score_is_found_by_going_through_folders(tmp_path):
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "kites.musicxml").write_text("")
    (tmp_path / "letter.txt").write_text("")
    (tmp_path / ".hidden.musicxml").write_text("")
    scene = FilesPage("which piece?", tmp_path, [".musicxml"], takes_folders=False)
    assert [b.words for b in scene.buttons(1024, 768)] == ["shelf …", "folder above", "back"]
    press(scene, "shelf …")
    press(scene, "kites.musicxml")
    assert scene.chosen == tmp_path / "shelf" / "kites.musicxml"


def test_an_arrow_stays_in_its_row_however_near_a_button_of_the_next_one_is():
    wide, far = Button("wide", "", Box(0, 0, 180, 40)), Button("far", "", Box(190, 0, 180, 40))
    near = Button("near", "", Box(100, 50, 60, 40))
    assert next_button([wide, far, near], wide, Command.RIGHT) == far
