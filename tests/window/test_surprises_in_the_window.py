"""What fails in the window is told on a page, and what was played is kept."""

from __future__ import annotations

import json
import os
import shutil
import signal
import time

import pytest

from drills.app.faults import FAULTS
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from drills.window.page_area import page_area
from drills.window.pages.files_page import FilesPage
from drills.window.pages.first_page import FirstPage
from drills.window.pages.list_page import ENTRY
from drills.window.pages.marks import marks_of
from drills.window.pages.teacher_page import TeacherPage
from tests.window.program import SIZE, TIMEOUT, Program, tap, until

FAILING_PAGE = """
from drills.window.pages.practice_scene import PracticeScene
layers = PracticeScene.layers
def failing(self, width, height):
    if self.view.showing > 1:
        raise KeyError("Robin played 61")
    return layers(self, width, height)
PracticeScene.layers = failing
"""
HELD_UP = """
import ctypes
from pathlib import Path
from drills.piano import Piano
sleep, poll, polled = ctypes.PyDLL(None).sleep, Piano.poll, []
def held_up(self, now):
    polled.append(now)
    if len(polled) > 20:
        Path({path!r}).touch()
        sleep(60)
    return poll(self, now)
Piano.poll = held_up
"""
"""A call from C that gives no turn to anything else in the program, as a driver's may be."""


@pytest.fixture
def start(tmp_path, screen, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    (tmp_path / "home").mkdir()
    started = []

    def run(*arguments, **options):
        started.append(Program(tmp_path / "studio", *arguments, **options))
        return started[-1]

    yield run
    for program in started:
        program.process.kill()
        program.process.wait()


@pytest.fixture
def without_piano(monkeypatch):
    monkeypatch.setenv("MIDO_BACKEND", "mido.backends.rtmidi/UNIX_JACK")
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nobody")
    monkeypatch.setenv("JACK_NO_START_SERVER", "1")


def press(xdotool, page, action, size=SIZE):
    """Press a button of a page that is made here as it is made in the window."""
    area = page_area(*size)
    button = next(b for b in page.buttons(area.width, area.height) if b.action == action)
    x, y = button.middle
    xdotool("mousemove", round(x + area.x), round(y + area.y), "click", 1)


def test_a_page_that_fails_is_told_of_and_the_session_is_kept(
    start, xdotool, tmp_path, scripted_piano
):
    program = start("practise", "--pupil", "Robin", before=FAILING_PAGE)
    program.wait_for("card")
    until(lambda: tap(scripted_piano, 60) or [e for e in program.lines() if e["event"] == "answer"])
    report = tmp_path / "studio" / FAULTS
    until(report.exists)
    (fault,) = json.loads(report.read_text())
    assert fault["kind"] == "KeyError"
    assert "Robin" not in report.read_text()
    assert program.process.poll() is None
    assert read_session(program.path).events
    xdotool("key", "Return")
    assert program.process.wait(TIMEOUT) == 2


def test_a_pupil_removed_by_another_program_is_told_of_and_not_made_again(
    start, xdotool, tmp_path, without_piano
):
    studio = Studio(tmp_path / "studio")
    marks = marks_of({studio.pupil(nickname).nickname: "" for nickname in ("Robin", "Wren")})
    program = start("start")
    kept = studio.pupil("Wren").folder / "Wren.settings.toml"
    until(kept.exists)
    shutil.rmtree(studio.pupil("Robin").folder)
    press(xdotool, FirstPage(marks), "pupil/Robin")
    # What is told is left with Enter; then those are asked for who are still there.
    until(lambda: xdotool("key", "Return") or studio.known_pupil("Wren").session_files())
    assert [pupil.nickname for pupil in studio.pupils()] == ["Wren"]
    program.close()


@pytest.mark.parametrize(
    ("screen", "size"),
    [((size), size) for size in ((400, 1080), (720, 1920), (1920, 240))],
    indirect=["screen"],
)
def test_a_pupil_plays_in_a_window_of_any_shape(start, xdotool, tmp_path, without_piano, size):
    marks = marks_of({Studio(tmp_path / "studio").pupil("Robin").nickname: ""})
    program = start("start", size=size)
    until(lambda: press(xdotool, FirstPage(marks), "pupil/Robin", size) or program.path)
    program.wait_for("card")
    program.close()


def test_a_window_made_tiny_and_large_again_goes_on(start, xdotool, without_piano):
    program = start("practise", "--pupil", "Robin")
    program.wait_for("card")
    window = os.popen("xdotool search --onlyvisible --class .").read().split()[0]
    for size in ((280, 768), (20, 10), (1, 1), (1000, 60), SIZE):
        xdotool("windowsize", "--sync", window, *size)
    until(lambda: xdotool("key", "q") or [e for e in program.lines() if e["event"] == "key"])
    assert program.process.poll() is None
    program.close()


def test_files_whose_names_are_no_text_are_shown_and_told_of(
    start, xdotool, tmp_path, without_piano
):
    home = tmp_path / "home"
    (home / os.fsdecode(b"\xff\x1b[2J.abc")).write_text("X:1\nK:C\nCDEF|\n")
    marks = marks_of({Studio(tmp_path / "studio").pupil("Robin").nickname: ""})
    program = start("start")
    page = tmp_path / "studio" / "Robin" / "pages" / "piece.html"
    until((tmp_path / "studio" / "Robin" / "Robin.settings.toml").exists)
    steps = (
        (FirstPage(marks), "teacher"),
        (TeacherPage(marks, "Robin", None), "piece"),
        (FilesPage("", home, (".abc",), False), f"{ENTRY}0"),
    )

    def made():
        for each, action in steps:
            press(xdotool, each, action)
            time.sleep(1.5)
        return page.exists()

    until(made)
    assert program.process.poll() is None
    program.close()


def test_a_window_that_waits_for_a_driver_ends_at_once_when_it_is_asked_to(
    start, tmp_path, without_piano
):
    held = tmp_path / "held"
    program = start("practise", "--pupil", "Robin", before=HELD_UP.format(path=str(held)))
    program.wait_for("card")
    until(held.exists)
    begun = time.monotonic()
    program.process.send_signal(signal.SIGTERM)
    assert program.process.wait(10) == -signal.SIGTERM
    assert time.monotonic() - begun < 5
    assert read_session(program.path).events
