"""A lesson in the real window: the warm-up from its start to the home plan, and the review."""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from drills.cards.card import cards_of, parse_card
from drills.learning.planner import Planner
from drills.storage.plan import read_plan
from drills.storage.session_file import read_session
from drills.window.pages.warm_up_choice import START, WarmUpChoice
from landmarks.names import LETTER
from landmarks.sets import built_in_sets
from tests.scripted_drill import STARTED
from tests.window.program import SIZE, Program, tap

SAMPLE = Path(__file__).parents[2] / "sample_sessions"
PUPIL = "Wren"
SECONDS = 30


@pytest.fixture
def studio(tmp_path):
    shutil.copytree(SAMPLE / PUPIL, tmp_path / PUPIL)
    return tmp_path


@pytest.fixture
def run(studio, screen):
    started = []

    def start(*arguments):
        started.append(Program(studio, *arguments, pupil=PUPIL))
        return started[-1]

    yield start
    for program in started:
        program.process.kill()
        program.process.wait()


@pytest.fixture
def press(xdotool, screen):
    """Press a computer key, once the page that is to take it has been drawn."""

    def pressed(key):
        search = ["xdotool", "search", "--sync", "--onlyvisible", "--class", "."]
        subprocess.run(search, check=True, timeout=SECONDS, stdout=subprocess.DEVNULL)
        time.sleep(0.4)
        xdotool("mousemove", 500, 300, "key", key)

    return pressed


def pressed_middle_c(program, piano):
    """Answer the question a new piano is asked first; give the first card of the warm-up."""
    program.wait_for("card")
    time.sleep(0.3)
    tap(piano, 60)
    program.wait_for("piano", change="tuned")
    return program.wait_for("card")


def answered(program, piano, card, key=None):
    time.sleep(0.25)
    tap(piano, card["target"] if key is None else key)
    return program.wait_for("answer")


def test_a_warm_up_from_start_to_the_home_plan(run, press, studio, scripted_piano):
    program = run("warm-up", "--pupil", PUPIL)
    press("Return")
    card = pressed_middle_c(program, scripted_piano)

    answer = answered(program, scripted_piano, card)
    assert (answer["verdict"], answer["counted"]) == ("exact", True)
    first = card["id"]

    missed = program.wait_for("card")
    assert answered(program, scripted_piano, missed, missed["target"] + 12)["verdict"] == "octave"
    press("BackSpace")
    again = program.wait_for("card")
    assert again["id"] == missed["id"]
    assert answered(program, scripted_piano, again)["attempt"] == 1

    skipped = program.wait_for("card")
    press("Tab")
    press("space")
    hinted = program.wait_for("card")
    assert hinted["id"] != skipped["id"]
    press("Up")
    answer = answered(program, scripted_piano, hinted)
    assert (answer["hints"], answer["why_not"]) == (1, "helped")

    told = program.wait_for("card")
    press("Return")
    answer = answered(program, scripted_piano, told)
    assert (answer["hints"], answer["why_not"]) == (3, "helped")

    program.wait_for("card")
    press("Escape")
    assert program.wait_for("end")["why"] == "stopped"
    press("Return")
    press("Return")
    assert program.process.wait(SECONDS) == 0

    session = read_session(program.path)
    assert session.header.use == "warm-up"
    asked = {response.card.id for response in session.responses}
    assert {first, missed["id"]} <= asked
    assert not {skipped["id"], hinted["id"], told["id"]} & asked
    plan = read_plan(studio / PUPIL / f"{PUPIL}.plan.json")
    assert missed["id"] in plan.cards


def test_the_teacher_narrows_with_the_mouse_to_one_stave(run, xdotool, press, scripted_piano):
    program = run("warm-up", "--pupil", PUPIL)
    bass, start = option("bass"), option("start")
    press("Down")
    xdotool("mousemove", *map(round, bass.middle), "click", 1)
    xdotool("mousemove", *map(round, start.middle), "click", 1)
    card = pressed_middle_c(program, scripted_piano)
    clefs = set()
    for _ in range(4):
        clefs.add(card["clef"])
        answered(program, scripted_piano, card)
        card = program.wait_for("card")
    assert clefs == {"bass"}
    program.close()


def option(words):
    """Give the button of these words, as the page lays it out."""
    five = built_in_sets()["five"]
    planner = Planner(cards_of(five))
    page = WarmUpChoice(
        PUPIL, cards_of(five), lambda card: planner.standing(card, STARTED), five, LETTER
    )
    return next(button for button in page.buttons(*SIZE) if button.words == words)


def test_home_practice_asks_what_the_plan_set_in_the_lesson_names(
    run, press, studio, scripted_piano
):
    lesson = run("warm-up", "--pupil", PUPIL)
    press("Return")
    pressed_middle_c(lesson, scripted_piano)
    press("Escape")
    press("Return")
    press("Escape")
    assert lesson.process.wait(SECONDS) == 0
    planned = set(read_plan(studio / PUPIL / f"{PUPIL}.plan.json").cards)
    practice = run("practise", "--pupil", PUPIL)
    asked = set()
    while len(asked) < 5:
        card = practice.wait_for("card")
        if card["kind"] != "key":
            asked.add(card["id"])
        answered(practice, scripted_piano, card)
    assert asked <= planned
    practice.close()


def test_after_the_lesson_the_review_tells_of_it(run, press, studio, scripted_piano):
    program = run("warm-up", "--pupil", PUPIL)
    press("Return")
    card = pressed_middle_c(program, scripted_piano)
    answered(program, scripted_piano, card)
    program.close()
    page = studio / "page.html"
    command = "import sys; from drills.commands import main; sys.exit(main())"
    done = subprocess.run(
        [sys.executable, "-c", command, "review", "--pupil", PUPIL, "--studio", str(studio),
         "--page", str(page)],
        capture_output=True, text=True, check=True, env=dict(os.environ),
    )  # fmt: skip
    assert str(page) in done.stdout
    told = page.read_text("utf-8")
    assert PUPIL in told
    assert parse_card(card["id"]).named() in told


def test_start_is_what_enter_stands_for_at_first():
    assert option("start").action == START
