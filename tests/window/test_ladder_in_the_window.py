"""The ladder in the real window, on an X server without a monitor, over real MIDI."""

import json
import subprocess
import sys
import time
from datetime import UTC, datetime

import pytest

from drills.cards.contour import Contour
from drills.learning.ladder.climb import Climber
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.learning.prior_knowledge.question import questions
from drills.storage.prior_knowledge_file import observations_of, write_observations
from drills.storage.studio import Studio
from drills.window.pages.prior_knowledge import BeginningsPage
from tests.drills.learning.ladder.test_beginners import brings
from tests.window.program import SIZE, tap
from tests.window.test_practice_in_the_window import practise

__all__ = ["practise"]

NOW = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)


def stand_on(folder, rung):
    """Set Robin on a rung, as the teacher does, and a piano that needs no question."""
    pupil = Studio(folder).pupil("Robin")
    write_observations(Observations(pupil="Robin").decided(rung, NOW), pupil)


def settle_piano(folder, piano):
    Studio(folder).remember_piano(piano.name, 0)


def test_a_line_of_shapes_is_followed_on_any_keys(practise, scripted_piano, tmp_path):
    stand_on(tmp_path, "two-lines")
    settle_piano(tmp_path, scripted_piano)
    practice = practise()
    reached = practice.wait_for("rung")
    assert (reached["rung"], reached["by"]) == ("two-lines", "teacher")
    card = practice.wait_for("card", kind="contour")
    moves = Contour.parse(card["id"].split("/", 3)[3]).moves
    time.sleep(0.3)
    key = 60
    tap(scripted_piano, key)
    assert practice.wait_for("card", kind="contour")["move"] == 1
    time.sleep(0.2)
    wrong = key - 5 if moves[0] >= 0 else key + 5
    tap(scripted_piano, wrong)
    answer = practice.wait_for("answer")
    assert (answer["verdict"], answer["counted"], answer["move"]) == ("direction", True, 1)
    for number, size in enumerate(moves, 1):
        time.sleep(0.2)
        key += 2 * size
        tap(scripted_piano, key)
        answer = practice.wait_for("answer")
        assert (answer["verdict"], answer["move"]) == ("exact", number)
        assert answer.get("counted", False) == (number > 1)
    assert practice.wait_for("card")["id"] != card["id"]
    practice.close()


def follow(practice, piano, card):
    """Play a line of shapes that comes between the notes."""
    key = 60
    tap(piano, key)
    for size in Contour.parse(card["id"].split("/", 3)[3]).moves:
        practice.wait_for("card", kind="contour")
        time.sleep(0.2)
        key += 2 * size
        tap(piano, key)
        assert practice.wait_for("answer")["verdict"] == "exact"


@pytest.mark.parametrize("rung", ["keys-by-place", "keys-by-name"])
def test_a_key_is_found_in_any_octave(practise, scripted_piano, tmp_path, rung):
    stand_on(tmp_path, rung)
    settle_piano(tmp_path, scripted_piano)
    practice = practise()
    form = rung.rpartition("-")[2]
    while not (card := practice.wait_for("card"))["id"].endswith(form):
        time.sleep(0.3)
        tap(scripted_piano, card["target"])
    time.sleep(0.3)
    tap(scripted_piano, card["target"] - 12 + 2)
    assert practice.wait_for("answer", id=card["id"])["verdict"] in ("step", "half-step")
    time.sleep(0.2)
    tap(scripted_piano, card["target"] - 12)
    answer = practice.wait_for("answer")
    assert (answer["verdict"], answer["attempt"]) == ("exact", 2)
    practice.close()


def test_a_step_is_read_from_the_landmark_beside_it(practise, scripted_piano, tmp_path):
    stand_on(tmp_path, "treble-steps-beside")
    settle_piano(tmp_path, scripted_piano)
    practice = practise()
    for _ in range(60):
        card = practice.wait_for("card")
        time.sleep(0.3)
        if card["kind"] == "contour":
            follow(practice, scripted_piano, card)
            continue
        tap(scripted_piano, card["target"])
        answer = practice.wait_for("answer")
        assert (answer["verdict"], answer["hints"]) == ("exact", 0)
        if "/beside-" in card["id"]:
            break
    else:
        raise AssertionError("no step beside its landmark was asked")
    practice.close()


def middle_of(action, beginnings):
    page = BeginningsPage(beginnings, climber_of, lambda b: None, lambda: NOW)
    asked = questions().get(action.partition("/")[0])
    if asked is not None:
        page.part = asked.part
    (button,) = (each for each in page.buttons(*SIZE) if each.action == action)
    return [round(at) for at in button.middle]


def climber_of(beginnings):

    return Climber(prior_knowledge_of(beginnings), (), (), beginnings.decisions)


def test_the_teacher_sets_down_what_a_pupil_brings_by_mouse_and_by_arrow_keys(
    screen, xdotool, tmp_path
):
    command = "import sys; from drills.commands import main; sys.exit(main())"
    size = "x".join(map(str, SIZE))
    pupil = Studio(tmp_path).pupil("Robin")
    process = subprocess.Popen(
        [sys.executable, "-c", command, "beginnings", "--pupil", "Robin", "--studio",
         str(tmp_path), "--size", size]
    )  # fmt: skip
    try:
        nothing = brings("Robin")
        until_shown(xdotool, "part/page", nothing)
        answers = until(
            lambda: xdotool(
                "mousemove", *middle_of("reads-for/recorder", nothing), "click", 1
            ) or set_down(pupil),
            "reads-for",
        )  # fmt: skip
        assert answers["reads-for"] == "recorder"
        until_shown(xdotool, "part/keyboard", nothing)
        xdotool("mousemove", *middle_of("key-names/yes", nothing), "click", 1)
        until(lambda: set_down(pupil), "key-names")
        xdotool("key", "Right", "key", "Return")
        assert until(lambda: set_down(pupil), "key-names", "not-yet")["key-names"] == "not-yet"
        xdotool("mousemove", *middle_of("rung up", nothing), "click", 1)
        deadline = time.monotonic() + 20
        while not observations_of(pupil).decisions and time.monotonic() < deadline:
            time.sleep(0.05)
        assert observations_of(pupil).decisions[0].rung == "keys-by-name"
        xdotool("key", "Escape")
        assert process.wait(10) == 0
        told = json.loads(next(pupil.folder.glob("*.beginnings.json")).read_text("utf-8"))
        assert [each["answer"] for each in told["observations"]] == ["recorder", "yes", "not-yet"]
    finally:
        process.kill()
        process.wait()


def until_shown(xdotool, part, nothing):
    """Turn to a part of the page; the window may only be opening."""
    wait = ["xdotool", "search", "--sync", "--onlyvisible", "--class", "."]
    subprocess.run(wait, check=True, stdout=subprocess.DEVNULL)
    time.sleep(1)
    xdotool("mousemove", *middle_of(part, nothing), "click", 1)
    time.sleep(0.5)


def set_down(pupil):
    found = observations_of(pupil)
    return {} if found is None else {n: seen.answer for n, seen in found.answers().items()}


def until(look, question, answer=None):
    """Look again and again until a question has an answer, or this answer."""
    deadline = time.monotonic() + 30
    while time.monotonic() < deadline:
        answers = look()
        if question in answers and answer in (None, answers[question]):
            return answers
        time.sleep(0.3)
    raise AssertionError(f"{question} was never set down")
