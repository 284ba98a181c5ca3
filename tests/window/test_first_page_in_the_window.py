"""Everything can be done in the one window: as pupil, as teacher, and without a command line."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from drills.commands import main
from drills.storage.import_files import ENDINGS as GATHERED
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from drills.window.pages.files_page import FilesPage
from drills.window.pages.first_look import FirstLookPage
from drills.window.pages.first_page import FirstPage
from drills.window.pages.list_page import ENTRY, ListPage
from drills.window.pages.marks import marks_of
from drills.window.pages.message_page import MessagePage
from drills.window.pages.new_pupil import NewPupilPage
from drills.window.pages.teacher_page import TeacherPage
from landmarks.score.files import ENDINGS
from tests.faults.pupil import recorded_session
from tests.machine import frame_on
from tests.window.program import SIZE, Program, still, tap, until

SCORES = Path(__file__).parents[2] / "sample_sessions" / "scores"


@pytest.fixture
def home(tmp_path, monkeypatch):
    """An empty home folder, and a browser that only notes what it is asked to open."""
    noted = tmp_path / "opened"
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\necho "$1" >> {noted}\n')
    browser.chmod(0o700)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("BROWSER", str(browser))
    (tmp_path / "home").mkdir()
    return tmp_path


@pytest.fixture
def start(home, screen, jack, xdotool):
    """Opens the window as the program alone does, and waits for its first page."""
    started = []

    def run(pupil="Boat"):
        empty = still(screen)
        started.append(Program(home / "studio", "start", pupil=pupil))
        until(lambda: frame_on(screen) != empty)
        still(screen)
        return started[-1]

    yield run
    for program in started:
        program.process.kill()


@pytest.fixture
def click(xdotool, screen):
    """Presses a button of a page that is made here as it is made in the window.

    Waits until the screen has changed and stands still again.
    """

    def press(page, action):
        button = next(b for b in page.buttons(*SIZE) if b.action == action)
        xdotool("mousemove", *map(round, button.middle))
        before = still(screen)
        xdotool("click", 1)
        until(lambda: frame_on(screen) != before)
        still(screen)

    return press


@pytest.fixture
def shown(xdotool, screen):
    """Gives what is on the screen, the mouse aside."""

    def look():
        xdotool("mousemove", *(side - 1 for side in SIZE))
        return still(screen)

    return look


def test_a_new_pupil_plays_after_two_touches_from_a_fresh_start(start, click, scripted_piano):
    program = start()
    click(NewPupilPage([], [], teacher=True), "mark/boat")
    click(FirstLookPage(), "known")
    card = program.wait_for("card")
    tap(scripted_piano, 60)
    assert program.wait_for("card")["t"] > card["t"]
    assert read_session(program.path).header.pupil == "Boat"
    program.close()


def test_who_does_not_know_the_picture_begins_before_the_stave(start, click, home, scripted_piano):
    program = start()
    click(NewPupilPage([], [], teacher=True), "mark/boat")
    click(FirstLookPage(), "new to me")
    program.wait_for("card")
    time.sleep(0.3)
    tap(scripted_piano, 60)
    assert program.wait_for("rung")["rung"] == "no-stave"
    assert program.wait_for("card", kind="contour")["id"].split("/")[3] == "no-stave"
    (seen,) = observations_of(Studio(home / "studio").pupil("Boat")).observations
    assert (seen.question, seen.answer, seen.by) == ("reads-for", "none", "pupil")
    program.close()


def test_a_typed_nickname_is_kept_and_plays_no_notes(start, click, xdotool, home, scripted_piano):
    program = start("Robin")
    xdotool("type", "--delay", "60", "Robin")
    click(NewPupilPage([], [], teacher=True), "mark/kite")
    click(FirstLookPage(), "known")
    program.wait_for("card")
    assert [pupil.nickname for pupil in Studio(home / "studio").pupils()] == ["Robin"]
    assert not any(line["event"] == "key" for line in program.lines())
    program.close()


def test_a_teacher_reaches_every_use_of_a_pupil_from_the_corner(start, click, xdotool, home, shown):
    studio = Studio(home / "studio")
    studio.pupil("Robin")
    marks = marks_of({"Robin": ""})
    opened = home / "opened"

    def pages():
        return opened.read_text().split() if opened.exists() else []

    program = start("Robin")
    click(FirstPage(marks), "teacher")
    page, teachers = TeacherPage(marks, "Robin", None), shown()

    def told_and_left():
        xdotool("key", "Return")
        return shown() == teachers

    for use, name in (
        ("review", "review"), ("handout", "practice-sheet"), ("parents sheet", "for-parents"),
        ("review all", "everybody"), ("questions", "questions-for-parents"),
    ):  # fmt: skip
        before = len(pages())
        click(page, use)
        url = until(lambda before=before: pages()[before:])[0]
        assert url.endswith(f"/{name}.html")
        assert Path(url.removeprefix("file://")).read_text("utf-8").startswith("<!DOCTYPE html>")
        until(told_and_left)
    click(page, "export")
    until(lambda: list((home / "home").glob("Robin *.zip")))
    until(lambda: xdotool("key", "Escape") or shown() == teachers)
    click(page, "forget")
    xdotool("key", "Right", "Return")
    until(lambda: not studio.pupils())
    assert program.process.poll() is None
    program.close()


def test_the_teacher_looks_at_a_piece_and_puts_it_into_the_home_plan(
    start, click, screen, xdotool, home, monkeypatch
):
    monkeypatch.setenv("HOME", str(SCORES.parent))
    studio = Studio(home / "studio")
    robin = studio.pupil("Robin")
    marks = marks_of({"Robin": ""})
    program = start("Robin")
    click(FirstPage(marks), "teacher")
    click(TeacherPage(marks, "Robin", None), "piece")
    for name in ("scores", "two-kites.musicxml"):
        _go_to(click, SCORES.parent if name == "scores" else SCORES, name)
    until((home / "opened").exists)
    still(screen)
    xdotool("key", "Right", "Return")
    until((robin.folder / "Robin.plan.json").exists)
    assert "Two Kites" in (robin.folder / "pages" / "piece.html").read_text("utf-8")
    program.close()


def test_of_several_tunes_one_is_chosen_from_a_list(start, click, xdotool, home, monkeypatch):
    book = home / "home" / "book.abc"
    tunes = [f"X:{n}\nT:Tune {n}\nM:4/4\nL:1/4\nK:C\nCDEF|\n\n" for n in (1, 2, 3)]
    book.write_text("".join(tunes))
    robin = Studio(home / "studio").pupil("Robin")
    program = start("Robin")
    click(FirstPage(marks_of({"Robin": ""})), "teacher")
    click(TeacherPage(marks_of({"Robin": ""}), "Robin", None), "piece")
    _go_to(click, book.parent, book.name)
    tunes = ListPage("", "", ["1", "2", "3"])

    def page_of_the_second():
        # Before the list is there a touch at this place means nothing.
        click_at(xdotool, tunes, f"{ENTRY}1")
        return list((robin.folder / "pages").glob("piece.html"))

    page = until(page_of_the_second)[0]
    assert "Tune 2" in page.read_text("utf-8")
    program.close()


def test_a_zip_file_that_a_family_sent_is_taken_in_as_it_came(start, click, xdotool, home):
    recorded_session(Studio(home / "family"), "Wren", seed=1)
    sent = home / "home" / "Wren.zip"
    main(["export", "Wren", str(sent), "--studio", str(home / "family")])
    studio = Studio(home / "studio")
    studio.pupil("Robin")
    program = start("Robin")
    click(FirstPage(marks_of({"Robin": ""})), "teacher")
    click(TeacherPage(marks_of({"Robin": ""}), "Robin", None), "gather")
    _go_to(click, sent.parent, sent.name, GATHERED, takes_folders=True)
    until(lambda: [pupil.nickname for pupil in studio.pupils()] == ["Robin", "Wren"])
    until(studio.known_pupil("Wren").session_files)
    assert len(studio.known_pupil("Wren").session_files()) == 1
    program.close()


def _go_to(click, folder, name, endings=ENDINGS, takes_folders=False):
    """Press the button of an entry on the page of files."""
    page = FilesPage("", folder, endings, takes_folders)
    place = [path.name for path in page.paths].index(name)
    click(page, f"{ENTRY}{place}")


def click_at(xdotool, page, action):
    """Press a button whether or not its page is there."""
    button = next(b for b in page.buttons(*SIZE) if b.action == action)
    xdotool("mousemove", *map(round, button.middle), "click", 1)


def test_a_nickname_that_cannot_be_kept_is_told_and_asked_again(start, click, xdotool, home):
    program = start("Robin")
    xdotool("type", "--delay", "60", "con")
    new = NewPupilPage([], [], teacher=True)
    click(new, "mark/kite")
    click(MessagePage("", [""], [("done", "")]), "done")
    click(new, "mark/kite")
    until(Studio(home / "studio").pupils)
    assert [pupil.nickname for pupil in Studio(home / "studio").pupils()] == ["Kite"]
    program.close()
