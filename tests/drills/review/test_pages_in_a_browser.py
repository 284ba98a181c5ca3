"""The pages as readers meet them: on a telephone, a tablet, on paper, and read aloud."""

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from drills.engrave import palette
from drills.learning.response import State
from drills.reports.frame import PARENT_WORDS, STATE_WORDS
from drills.reports.parent_sheet import parents_sheet
from drills.reports.pupil_page import pupil_page
from drills.reports.stave_picture import note_sample
from drills.reports.studio_page import studio_page
from drills.review.whole_studio import review_studio
from drills.storage.nickname import LONGEST_NICKNAME

PHONE, TABLET, DESK = 390, 820, 1280
A4_PRINT = round((210 - 2 * 12) / 25.4 * 96)
"""The width of A4 (ISO 216) between the page's margins, in CSS pixels of 1/96 inch."""

OVERFLOWING = """(() => {
  const width = document.documentElement.clientWidth, found = [];
  for (const element of document.body.querySelectorAll('*')) {
    if (element.closest('.skip, thead')) continue;
    const box = element.getBoundingClientRect();
    if (box.width && (box.right > width + 0.5 || box.left < -0.5))
      found.push(element.tagName + ' ' + element.textContent.slice(0, 40));
  }
  if (document.documentElement.scrollWidth > width) found.push('page');
  return found;
})()"""

OVERLAPPING = """(() => {
  const cells = [...document.querySelectorAll('td, tbody th')].filter(c => c.textContent.trim());
  return cells.filter(c => c.scrollWidth > c.clientWidth + 1).map(c => c.textContent);
})()"""

COLOURS = """(() => {
  const found = [];
  for (const element of document.body.querySelectorAll('*')) {
    const own = [...element.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
    if (!own || element.tagName === 'STYLE') continue;
    const style = getComputedStyle(element);
    let behind = element;
    while (behind && getComputedStyle(behind).backgroundColor === 'rgba(0, 0, 0, 0)')
      behind = behind.parentElement;
    const colour = element.namespaceURI.endsWith('svg') ? style.fill : style.color;
    const ground = behind ? getComputedStyle(behind).backgroundColor : 'rgb(255, 255, 255)';
    found.push([colour, ground, element.textContent.slice(0, 40)]);
  }
  return found;
})()"""


SIZES = """(() => {
  const found = [];
  for (const element of document.body.querySelectorAll('*')) {
    const own = [...element.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
    if (!own || element.closest('.skip, thead, script')) continue;
    if (!element.getClientRects().length) continue;
    const svg = element.ownerSVGElement;
    const scale = svg ? svg.getScreenCTM().a : 1;
    found.push([scale * parseFloat(getComputedStyle(element).fontSize), element.textContent]);
  }
  return found;
})()"""


@pytest.fixture(scope="module")
def pages(reviewed_studio, tmp_path_factory):
    """The pages of a studio, written as files."""
    folder = tmp_path_factory.mktemp("pages")
    _, studio = reviewed_studio(0)
    made = {"studio": studio_page(studio)}
    for review in studio.pupils:
        made[review.nickname] = pupil_page(review)
        made[f"{review.nickname}, for the parent"] = parents_sheet(review)
    paths = {}
    for number, (name, text) in enumerate(made.items()):
        paths[name] = folder / f"{number}.html"
        paths[name].write_text(text, encoding="utf-8")
    return paths


NAMES = ("studio", "Wren", "Otter", "Wren, for the parent", "Marlow, for the parent")


@pytest.mark.parametrize("width", [PHONE, TABLET, DESK, 320])
@pytest.mark.parametrize("name", NAMES)
def test_nothing_runs_over_the_edge(browser, pages, name, width):
    browser.open(pages[name], width)
    assert browser.evaluate(OVERFLOWING) == []
    assert browser.evaluate(OVERLAPPING) == []


@pytest.mark.parametrize("name", NAMES)
def test_nothing_runs_over_the_edge_of_a4_paper(browser, pages, name):
    browser.print_as_seen()
    try:
        browser.open(pages[name], A4_PRINT)
        assert browser.evaluate(OVERFLOWING) == []
        assert browser.evaluate(OVERLAPPING) == []
    finally:
        browser.show_as_seen()


SMALLEST_ON_SCREEN = 10.5
SMALLEST_ON_PAPER = 8 / 72 * 96
"""8 pt in CSS pixels: what fine print in books has (common practice, no source)."""


@pytest.mark.parametrize("width", [PHONE, TABLET, DESK, 320])
@pytest.mark.parametrize("name", NAMES)
def test_no_text_is_too_small_to_read_on_a_screen(browser, pages, name, width):
    browser.open(pages[name], width)
    sizes = browser.evaluate(SIZES)
    assert len(sizes) > 20
    smallest = SMALLEST_ON_SCREEN * min(1.0, width / PHONE)
    assert [each for each in sizes if each[0] < smallest - 0.01] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_text_is_too_small_to_read_on_paper(browser, pages, name):
    browser.print_as_seen()
    try:
        browser.open(pages[name], A4_PRINT)
        sizes = browser.evaluate(SIZES)
        assert [each for each in sizes if each[0] < SMALLEST_ON_PAPER - 0.01] == []
    finally:
        browser.show_as_seen()


@pytest.mark.parametrize("paper", [(8.27, 11.69), (8.5, 11.0)], ids=["A4", "Letter"])
@pytest.mark.parametrize(
    ("name", "sheets"), [("studio", 1), ("Wren", 2), ("Wren, for the parent", 1)]
)
def test_a_page_fits_its_sheets_of_paper(browser, pages, name, sheets, paper):
    import base64

    browser.open(pages[name], DESK)
    width, height = paper
    printed = browser.command("Page.printToPDF", paperWidth=width, paperHeight=height)["data"]
    count = re.search(rb"/Type /Pages\s*/Count (\d+)|/Count (\d+)", base64.b64decode(printed))
    assert int(count[1] or count[2]) == sheets


@pytest.mark.parametrize("name", NAMES)
def test_every_text_stands_out_from_its_ground(browser, pages, name):
    browser.open(pages[name], TABLET)
    texts = browser.evaluate(COLOURS)
    assert len(texts) > 20
    faint = [text for text in texts if contrast(rgb(text[0]), rgb(text[1])) < 4.5]
    assert faint == []


def test_drawn_marks_stand_out_from_white_paper():
    """WCAG 2.2, 1.4.11: at least 3:1."""
    for colour in (palette.INK, palette.PENCIL, palette.FADED, palette.ACCENT):
        assert contrast(rgb(colour), (255, 255, 255)) >= 3


@pytest.mark.parametrize("name", NAMES)
def test_everything_has_a_name_that_can_be_read_aloud(browser, pages, name):
    browser.open(pages[name], DESK)
    nodes = browser.command("Accessibility.getFullAXTree")["nodes"]
    named = [
        (node["role"]["value"], node.get("name", {}).get("value", ""))
        for node in nodes
        if not node["ignored"]
    ]
    spoken = [entry for entry in named if entry[0] in ("image", "heading", "link", "table")]
    assert [role for role, words in spoken if not words] == []
    roles = {role for role, _ in named}
    assert {"RootWebArea", "main", "heading", "image"} <= roles


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_the_table_of_notes_is_a_table_at_every_width(browser, pages, width):
    browser.open(pages["Wren"], width)
    nodes = browser.command("Accessibility.getFullAXTree")["nodes"]
    roles = [node["role"]["value"] for node in nodes if not node["ignored"]]
    assert roles.count("columnheader") == 8
    assert roles.count("rowheader") == 18
    assert roles.count("cell") + roles.count("gridcell") == 18 * 7 - hidden_cells(browser, width)


def hidden_cells(browser, width):
    """Cells with nothing to tell are left out on a telephone."""
    return browser.evaluate("document.querySelectorAll('td.none').length") if width == PHONE else 0


@pytest.mark.parametrize("name", NAMES)
def test_headings_go_down_one_level_at_a_time(browser, pages, name):
    browser.open(pages[name], DESK)
    levels = browser.evaluate(
        "[...document.querySelectorAll('h1, h2, h3')].map(h => +h.tagName[1])"
    )
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", NAMES)
def test_a_page_asks_for_nothing_but_itself(browser, pages, name):
    browser.open(pages[name], DESK)
    font, own = re.escape("data:font/woff;base64,"), re.escape(pages[name].as_uri())
    assert [asked for asked in browser.requests if not re.match(f"{font}|{own}$", asked)] == []
    assert "http" not in re.sub(r"http-equiv|base64,[^\"]*", "", pages[name].read_text())


def test_the_keyboard_reaches_the_table_first(browser, pages):
    browser.open(pages["Wren"], DESK)
    for kind in ("keyDown", "keyUp"):
        browser.command("Input.dispatchKeyEvent", type=kind, key="Tab", windowsVirtualKeyCode=9)
    assert browser.evaluate("document.activeElement.getAttribute('href')") == "#notes"
    assert browser.evaluate("document.activeElement.getBoundingClientRect().left") >= 0


def test_states_differ_without_colour():
    """In grey, each state has a pattern, an outline or a lightness of its own, and its word."""
    looks = {re.sub(r"#[0-9a-f]{6}", "", note_sample(state)) for state in State}
    assert len(looks) == 4
    for words in (STATE_WORDS, PARENT_WORDS):
        assert [words[state].partition(":")[0] for state in State] == [
            "dotted", "in pencil", "in ink", "faded",
        ]  # fmt: skip


def rgb(text):
    if text.startswith("#"):
        return tuple(int(text[place : place + 2], 16) for place in (1, 3, 5))
    return tuple(float(number) for number in re.findall(r"[\d.]+", text)[:3])


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it."""
    linear = [
        part / 255 / 12.92 if part / 255 <= 0.04045 else ((part / 255 + 0.055) / 1.055) ** 2.4
        for part in colour
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first, second):
    """Contrast ratio as WCAG 2.2 defines it."""
    lighter, darker = sorted((luminance(first), luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_counted_as_the_standard_counts_it():
    """21:1 for black on white, WCAG 2.2; 4.54:1 for #767676 on white, from memory."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((118, 118, 118), (255, 255, 255)) == pytest.approx(4.54, abs=0.01)


def test_days_of_practice_are_drawn_and_need_no_font(pages):
    """A disc for a day of practice; the accessible name counts them."""
    text = pages["Otter"].read_text()
    (picture,) = re.findall(r'<svg class="days[^"]*".*?</svg>', text)
    discs = re.findall(r'<circle [^>]*r="3.8"', picture)
    specks = re.findall(r'<circle [^>]*r="1.2"', picture)
    assert len(discs) + len(specks) == 28
    assert f'aria-label="practised on {len(discs)} of the last 28 days"' in picture


def test_a_page_holds_no_sign_that_common_fonts_lack(pages):
    """Letters, dash and quotation marks of Windows code page 1252 only; the rest is drawn."""
    for path in pages.values():
        path.read_text(encoding="utf-8").encode("cp1252")


@pytest.fixture(scope="module")
def odd_pages(new_notebook_of, tmp_path_factory):
    """Pages of pupils who have no session, one answer, only wrong ones, or sixty cards."""
    folder = tmp_path_factory.mktemp("odd")
    made = {}
    for name, answers in ODD.items():
        review = new_notebook_of(answers).review()
        review = replace(review, nickname="W" * LONGEST_NICKNAME)
        made[name] = pupil_page(review)
        made[f"{name}, for the parent"] = parents_sheet(review)
        made[f"{name}, the studio"] = studio_page(review_studio([review], review.now))
    paths = {}
    for number, (name, text) in enumerate(made.items()):
        paths[name] = folder / f"{number}.html"
        paths[name].write_text(text, encoding="utf-8")
    return paths


SIXTY = [
    f"step/{clef}/{letter}{sign}{octave}"
    for clef, octaves in (("treble", (4, 5)), ("bass", (2, 3)))
    for octave in octaves
    for letter in "CDEFGAB"
    for sign in ("", "#" if clef == "treble" else "b")
] + ["step/treble/F##4", "step/bass/Ebb3", "step/treble/C6", "step/bass/C4"]
ODD = {
    "no session": [],
    "one answer": [("landmark/treble/G4", 2.0, True)],
    "only wrong": [(f"step/treble/{note}", 3.0, "step") for note in ("A4", "F4", "B4") * 4],
    "sixty cards": [(card, 1.5, True) for card in SIXTY],
}


@pytest.mark.parametrize("width", [PHONE, TABLET])
@pytest.mark.parametrize("name", ODD)
def test_odd_studios_keep_within_the_page(browser, odd_pages, name, width):
    for page in (name, f"{name}, for the parent", f"{name}, the studio"):
        browser.open(odd_pages[page], width)
        assert browser.evaluate(OVERFLOWING) == []
        assert browser.evaluate(OVERLAPPING) == []


def test_the_notes_of_many_cards_are_large_enough_to_read_on_a_telephone(browser, odd_pages):
    """A stave space of at least 1.5 mm on the screen, 1/96 inch a pixel (no source)."""
    browser.open(odd_pages["sixty cards"], PHONE)
    widths = browser.evaluate(
        "[...document.querySelectorAll('svg.stave')]"
        ".map(s => s.getBoundingClientRect().width / s.viewBox.baseVal.width)"
    )
    assert len(widths) > 1
    assert min(widths) * 10 / 96 * 25.4 >= 1.5
