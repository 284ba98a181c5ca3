"""A pupil finds notes in the real window: by mouse, and by a piano over real MIDI."""

import time
from itertools import islice

import pytest

from drills.sessions.spotting.pages import invented_pages
from drills.sessions.spotting.question import parse_question, wanted_in
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from drills.window.pages.spotting_page import SpottingSetting
from landmarks.sets import built_in_sets
from tests.session_schema import hold
from tests.window.program import Program, tap

SEED = 5
ASKED = ("treble G", "bass C", "crotchet")
QUESTIONS = [parse_question(text) for text in ASKED]


@pytest.fixture
def spot(tmp_path, screen):
    started = []

    def start(*options, size=(1024, 768)):
        Studio(tmp_path).pupil("Robin")
        finds = [word for text in ASKED for word in ("--find", text)]
        program = Program(
            tmp_path, "spot", "--pupil", "Robin", *finds, *options, seed=SEED, size=size
        )
        started.append(program)
        return program

    yield start
    for program in started:
        program.process.kill()
        program.process.wait()


def pages(grand=False):
    """The pages that the program shows with this seed."""
    return invented_pages(built_in_sets()["five"], QUESTIONS, SEED, grand)


@pytest.mark.parametrize(
    ("screen", "size"),
    [((1024, 768), (1024, 768)), ((1920, 1080), (1920, 1080))],
    indirect=["screen"],
    ids=["1024x768", "1920x1080"],
)
def test_every_note_is_found_by_the_mouse(spot, jack, xdotool, monkeypatch, size):
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nobody")
    setting = SpottingSetting(*size)
    program = spot("--grand", size=size)

    def click(line, number):
        engraved = setting.engraved(line)
        left, top = setting.corner(engraved)
        head = engraved.heads[number]
        time.sleep(0.2)
        xdotool("mousemove", round(left + head.x), round(top + head.y), "click", 1)

    for page in islice(pages(grand=True), 3):
        assert program.wait_for("line")["notes"] == [note.spot for note in page.line.notes]
        for question in page.questions:
            told = program.wait_for("card", "value")
            assert told["name"] == question.name
            wanted = wanted_in(page.line, question)
            wrong = next(n for n in range(len(page.line.notes)) if n not in wanted)
            click(page.line, wrong)
            answer = program.wait_for("answer", "value-answer")
            assert answer["note"] == wrong
            assert answer.get("verdict") != "exact"
            assert not answer.get("right")
            for number in wanted:
                click(page.line, number)
                answer = program.wait_for("answer", "value-answer")
                assert answer["note"] == number
                assert answer.get("right", answer.get("verdict") == "exact")
    xdotool("key", "Escape")
    assert program.wait_for("end")["why"] == "stopped"
    xdotool("key", "Escape")
    assert program.process.wait(10) == 0
    hold(program.path)
    session = read_session(program.path)
    assert session.responses == ()
    assert session.header.use == "spotting"


def test_a_piano_marks_the_next_note_from_left_to_right(spot, scripted_piano):
    program = spot()
    page = next(pages())
    question = page.questions[0]
    key, wanted = question.card.key, wanted_in(page.line, question)

    def play(key):
        time.sleep(0.3)
        tap(scripted_piano, key)
        return program.wait_for("answer")

    # The line may be on the screen before the piano is found.
    asked = program.wait_for("card")
    asked = asked if asked["kind"] == "key" else program.wait_for("card")
    assert (asked["target"], play(60)["why_not"]) == (60, "tuning")
    assert program.wait_for("card")["name"] == question.name
    for number in wanted:
        answer = play(key + 2)
        assert (answer["verdict"], answer["played"]) == ("step", key + 2)
        assert "note" not in answer
        answer = play(key)
        assert (answer["verdict"], answer["note"], answer["why_not"]) == ("exact", number, "named")
        assert answer["attempt"] == 2
    program.close()
    hold(program.path)
    assert read_session(program.path).header.clock == "driver"
