"""The practice sheet: what stands on it, on paper and on a screen."""

import base64
import random
import re
from datetime import UTC, datetime
from itertools import islice

import pytest

from drills.cards.card import Card, Kind, cards_of
from drills.commands import main
from drills.learning.prior_knowledge.prior_knowledge import NOTHING
from drills.reports.practice_sheet import Handout, handout_page
from drills.reports.sheet_contours import invented_contours
from drills.scores.notes_of_week import notes_of_week
from drills.sessions.spotting.pages import invented_pages
from drills.sessions.spotting.question import note_question, parse_question, wanted_in
from drills.storage.plan import home_plan
from drills.storage.studio import Studio
from landmarks.names import GERMAN, LETTER
from landmarks.pitch import Pitch
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE

DAY = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
SETS = built_in_sets()
DESK = 1280

OVERFLOWING = """(() => {
  const width = document.documentElement.clientWidth, found = [];
  for (const element of document.body.querySelectorAll('body *:not(svg *)')) {
    const box = element.getBoundingClientRect();
    if (box.right > width + 0.5 || box.left < -0.5) found.push(element.tagName);
  }
  if (document.documentElement.scrollWidth > width) found.push('page');
  return found;
})()"""
TEXTS = """[...document.querySelectorAll('svg.landmarks text')].map(text => {
  const box = text.getBoundingClientRect();
  const whole = text.ownerSVGElement.getBoundingClientRect();
  return [box.left, box.top, box.right, box.bottom, whole.left, whole.top, whole.right,
          whole.bottom];
})"""


def handout(name="five", seed=1, grand=True, cards=6, asked=("treble G", "bass C", "crotchet")):
    landmarks = SETS[name]
    questions = [parse_question(text) for text in asked]
    week = cards_of(landmarks)[:cards]
    return Handout(
        "Robin", DAY, tuple({card.target: card for card in week}.values()),
        invented_contours(4, NOTHING, random.Random(seed)),
        next(invented_pages(landmarks, questions, seed, grand)), LETTER,
    )  # fmt: skip


@pytest.fixture
def written(tmp_path):
    def write(**options):
        path = tmp_path / "sheet.html"
        path.write_text(handout_page(handout(**options)), encoding="utf-8")
        return path

    return write


SHEETS = [
    {"name": name, "seed": seed, "grand": grand}
    for name in SETS for seed, grand in ((1, True), (2, False))
]  # fmt: skip


@pytest.mark.parametrize("paper", [(8.27, 11.69), (8.5, 11.0)], ids=["A4", "Letter"])
@pytest.mark.parametrize("options", SHEETS, ids=str)
def test_it_fits_one_sheet_of_paper_and_the_answers_another(browser, written, options, paper):
    """A4: ISO 216. Letter: 8.5 by 11 inches (from memory)."""
    browser.open(written(**options), DESK)
    width, height = paper
    printed = browser.command(
        "Page.printToPDF", paperWidth=width, paperHeight=height, preferCSSPageSize=True
    )["data"]
    count = re.search(rb"/Type /Pages\s*/Count (\d+)|/Count (\d+)", base64.b64decode(printed))
    assert int(count[1] or count[2]) == 2


@pytest.mark.parametrize("width", [390, 820, 1280])
def test_nothing_runs_over_the_edge(browser, written, width):
    browser.open(written(), width)
    assert browser.evaluate(OVERFLOWING) == []


@pytest.mark.parametrize("width", [390, 820])
@pytest.mark.parametrize("cards", [4, 6, 12])
def test_the_names_of_notes_do_not_run_into_each_other(browser, written, width, cards):
    browser.open(written(name="outward", cards=cards), width)
    boxes = browser.evaluate(TEXTS)
    assert boxes
    for n, (left, top, right, bottom, *whole) in enumerate(boxes):
        assert whole[0] <= left
        assert right <= whole[2]
        assert whole[1] - 1 <= top
        assert bottom <= whole[3] + 1
        for other in boxes[n + 1 :]:
            beside = right <= other[0] or other[2] <= left
            assert beside or bottom <= other[1] + 1 or other[3] <= top + 1


def test_every_picture_has_a_name_that_can_be_read_aloud(browser, written):
    browser.open(written(), DESK)
    nodes = browser.command("Accessibility.getFullAXTree")["nodes"]
    spoken = [
        node.get("name", {}).get("value", "")
        for node in nodes
        if not node["ignored"] and node["role"]["value"] == "image"
    ]
    assert len(spoken) == 7
    assert all(spoken)
    assert any(name.startswith("On the grand stave: bass C, bass F, middle C") for name in spoken)


def test_it_asks_for_nothing_but_itself_and_for_no_colour(browser, written):
    path = written()
    browser.open(path, DESK)
    asked = {address for address in browser.requests if not address.startswith("data:font/woff")}
    assert asked <= {path.as_uri()}
    text = re.sub(r"base64,[^\"]*", "", path.read_text())
    assert "http" not in text.replace("http-equiv", "")
    assert not re.search(r"#[0-9a-f]{3,6}\b", text.split("</style>")[1])


@pytest.mark.parametrize("seed", range(6))
def test_the_answers_ring_just_the_notes_asked_for(seed):
    sheet = handout(seed=seed)
    text = handout_page(sheet)
    first, *second = sheet.page.questions
    question, answers = text.split("<footer>")
    assert f"Ring every {first.name}." in question
    assert not re.findall(r'<(?:ellipse|rect) [^>]*fill="none"', question)
    rings = re.findall(r'<ellipse [^>]*fill="none"', answers)
    assert len(rings) == len(wanted_in(sheet.page.line, first))
    squares = re.findall(r'<rect [^>]*fill="none"', answers)
    assert len(squares) == sum(len(wanted_in(sheet.page.line, q)) for q in second[:1])


def test_the_notes_are_those_of_the_home_plan(tmp_path):
    landmarks = SETS["five"]
    pupil = Studio(tmp_path).pupil("Robin")
    cards = cards_of(landmarks)
    week = [cards[1], cards[3], cards[-1], Card(Kind.KEY, TREBLE, cards[0].target, cards[0].target)]
    plan = home_plan("Robin", DAY, week, 5)
    assert set(notes_of_week(plan, pupil, landmarks, DAY)) == set(week[:3])


def test_without_a_plan_they_are_the_landmarks_not_yet_in_ink_each_key_once(tmp_path):
    landmarks = SETS["five"]
    pupil = Studio(tmp_path).pupil("Robin")
    week = notes_of_week(None, pupil, landmarks, DAY)
    assert [str(card.target) for card in week] == ["C4", "G4", "F3", "C5", "C3"]
    assert {card.clef for card in week} == {TREBLE, BASS}


def test_the_command_writes_a_sheet_that_its_seed_repeats(tmp_path, capsys):
    Studio(tmp_path / "s").pupil("Robin")
    paths = [tmp_path / "one.html", tmp_path / "two.html"]
    for path in paths:
        arguments = ["handout", str(path), "--pupil", "Robin", "--studio", str(tmp_path / "s")]
        assert main([*arguments, "--seed", "4", "--find", "treble G"]) == 0
    assert capsys.readouterr().out.split() == [str(path) for path in paths]
    assert paths[0].read_text() == paths[1].read_text()
    assert "Ring every treble G." in paths[0].read_text()
    assert paths[0].stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--find", "trebble G"], "'trebble G' is neither a note nor a note value"),
        (["--find", "F#4"], "no invented line holds 'treble F♯'"),
        (["--score", "none.musicxml"], "none.musicxml: there is no such file"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_one_sentence(tmp_path, capsys, options, sentence):
    Studio(tmp_path / "s").pupil("Robin")
    path = tmp_path / "sheet.html"
    arguments = ["handout", str(path), "--pupil", "Robin", "--studio", str(tmp_path / "s")]
    assert main([*arguments, *options]) == 2
    err = capsys.readouterr().err
    assert err.startswith(f"landmark-drills: {sentence}")
    assert len(err.splitlines()) == 1
    assert not path.exists()


def test_a_line_from_a_score_says_which_bars_it_is(tmp_path):
    import music21

    from drills.sessions.spotting.pages import pages_of_score
    from landmarks.excerpt import score_lines

    lines = islice(score_lines(music21.corpus.getWork("bach/bwv846")), 4)
    page = next(pages_of_score(lines, [note_question(TREBLE, parse_question("G4").card.target)]))
    sheet = Handout("Robin", DAY, cards_of(SETS["five"])[:2], (), page, LETTER)
    told = handout_page(sheet)
    assert re.search(r"The line: [^<]+, bar 1\.", told)
    assert "bwv846.mxl" not in told


def test_the_answers_stand_on_a_page_of_their_own(browser, written):
    """So that she does not see them while she looks."""
    browser.print_as_seen()
    try:
        browser.open(written(), DESK)
        rule = "getComputedStyle(document.querySelector('footer')).breakBefore"
        assert browser.evaluate(rule) == "page"
    finally:
        browser.show_as_seen()


def test_in_german_both_cs_have_names_of_their_own():
    """Middle C is c', the C above it c'' (Helmholtz's octave names, from memory)."""
    week = [card for card in cards_of(SETS["cs"]) if card.kind is Kind.LANDMARK]
    page = next(invented_pages(SETS["cs"], [note_question(TREBLE, Pitch.parse("C5"), GERMAN)], 1,
                               True))  # fmt: skip
    told = handout_page(Handout("Robin", DAY, tuple(week), (), page, GERMAN))
    assert "Ring every treble C (c&#39;&#39;)." in told
    labels = re.findall(r"<text[^>]*>([^<]*)</text>", told)
    assert len(set(labels)) == len({card.target for card in week})
    assert any(label.endswith("(c&#39;)") for label in labels)
