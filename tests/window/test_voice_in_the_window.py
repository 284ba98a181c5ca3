"""A pupil with little sight hears the buttons and the verdicts, and nothing unless it is set."""

import os
import time

import pytest

from drills.storage.settings import Settings, write_settings
from drills.storage.studio import Studio
from tests.voice import Voice
from tests.window.program import Program, tap


@pytest.fixture
def voice(tmp_path, monkeypatch):
    folder = tmp_path / "voice"
    folder.mkdir()
    monkeypatch.setenv("PATH", f"{folder}{os.pathsep}{os.environ['PATH']}")
    return Voice(folder, 0)


@pytest.fixture
def run(tmp_path, screen, jack):
    started = []

    def start(*words, **settings):
        studio = tmp_path / "studio"
        write_settings(Settings(**settings), Studio(studio).pupil("Robin"))
        started.append(Program(studio, *words))
        return started[-1]

    yield start
    for program in started:
        program.process.kill()
        program.process.wait()


def spoken(voice, words):
    """Wait until these words are among those that were spoken."""
    deadline = time.monotonic() + 30
    while not any(words in line[-1] for line in voice.lines()):
        assert time.monotonic() < deadline, voice.lines()
        time.sleep(0.02)


def test_the_name_of_a_found_note_and_the_way_from_a_wrong_one_are_spoken(
    run, voice, scripted_piano
):
    practice = run("practise", "--pupil", "Robin", speech=True)
    for _ in range(40):
        card = practice.wait_for("card")
        if card["kind"] != "key":
            break
        time.sleep(0.3)
        tap(scripted_piano, card["target"])
    time.sleep(0.5)
    before = voice.lines()
    time.sleep(0.5)
    assert voice.lines() == before, "a card does not tell its name"
    tap(scripted_piano, card["target"] + 12)
    spoken(voice, "octave")
    tap(scripted_piano, card["target"])
    spoken(voice, card["name"])
    practice.close()


def test_nothing_is_spoken_unless_it_is_set(run, voice, scripted_piano):
    practice = run("practise", "--pupil", "Robin")
    for _ in range(2):
        card = practice.wait_for("card")
        time.sleep(0.3)
        tap(scripted_piano, card["target"])
    practice.wait_for("answer")
    practice.close()
    assert voice.lines() == []


def test_the_first_page_is_read_out_and_so_is_the_way_along_its_buttons(run, voice, xdotool):
    program = run("start", speech=True)
    spoken(voice, "who is playing?, Robin")
    xdotool("mousemove", 5, 5, "key", "Right")
    spoken(voice, "new")
    program.close()
