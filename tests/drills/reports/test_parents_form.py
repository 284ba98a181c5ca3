"""The parents' form as a browser shows it: filled in from a file, its answers taken home."""

import time
from datetime import timedelta

import pytest

from drills.learning.prior_knowledge.observations import Observation, Observations
from drills.reports.parent_questions import parents_sheet
from drills.storage.import_files import Taken, take_in_files
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.studio import Studio
from landmarks.translation import activate
from tests.drills.learning.ladder.test_beginners import BEFORE
from tests.drills.review.test_pages_in_a_browser import OVERFLOWING, OVERLAPPING

FILL = """(() => {
  document.querySelector('[name=nickname]').value = 'Robin';
  document.querySelector('input[type=radio][name=pulse][value=yes]').checked = true;
  document.querySelector('input[type=radio][name="reads-for"][value=trumpet]').checked = true;
  document.querySelector('.words[name="reads-for"]').value = 'since spring, "a little"';
  document.getElementById('take').click();
  return document.getElementById('told').textContent;
})()"""


@pytest.fixture(params=["en", "de"])
def form(request, tmp_path):
    """The form in a language, as a file."""
    path = tmp_path / "questions.html"
    activate(request.param)
    try:
        path.write_text(parents_sheet(), "utf-8")
    finally:
        activate("en")
    return path


def test_the_answers_come_home_in_a_file_that_is_taken_in(form, browser, tmp_path):
    browser.open(form, 1024)
    downloads = tmp_path / "downloads"
    browser.command("Page.setDownloadBehavior", behavior="allow", downloadPath=str(downloads))
    assert "Robin.beginnings.json" in browser.evaluate(FILL)
    deadline = time.monotonic() + 20
    while not (files := list(downloads.glob("*.json"))):
        assert time.monotonic() < deadline
        time.sleep(0.05)
    assert not [url for url in browser.requests if not url.startswith(("file:", "blob:", "data:"))]
    studio = Studio(tmp_path / "studio")
    assert take_in_files(files, studio).beginnings == {Taken.NEW: 1}
    found = observations_of(studio.pupil("Robin"))
    assert found.answer("pulse") == "yes"
    trumpet = found.answers()["reads-for"]
    assert (trumpet.answer, trumpet.by, trumpet.note) == (
        "trumpet", "parents", 'since spring, "a little"',
    )  # fmt: skip


def test_without_a_nickname_nothing_is_handed_out(form, browser):
    browser.open(form, 1024)
    said = browser.evaluate(
        "document.getElementById('take').click(), document.getElementById('told').textContent"
    )
    assert said
    assert ".json" not in said


@pytest.mark.parametrize("width", [375, 768, 1280])
def test_nothing_runs_over_the_edge(form, browser, width):
    browser.open(form, width)
    assert browser.evaluate(OVERFLOWING) == []
    assert browser.evaluate(OVERLAPPING) == []


def test_a_parent_is_told_nothing_of_commands(form):
    words = form.read_text("utf-8").partition("<script>")[0]
    assert "landmark-drills" not in words
    assert "<code>" not in words


def test_the_teachers_answer_holds_before_that_of_parents():
    teachers = Observations(pupil="Robin").seen("pulse", "not-yet", BEFORE)
    later = Observation(
        question="pulse", answer="yes", at=BEFORE + timedelta(days=90), by="parents"
    )
    assert (
        teachers.united(Observations(pupil="Robin", observations=(later,))).answer("pulse")
        == "not-yet"
    )
