"""What every page has in common: whatever is told is shown as it stands, in letters it carries."""

import base64
import re
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from jinja2 import UndefinedError

from drills.reports import parent_questions
from drills.reports.frame import page_of
from drills.reports.page_font import FAMILY, font_face
from drills.reports.piece_page import report_page
from drills.reports.terminal import Table
from landmarks.translation import activate

ROOT = Path(__file__).parents[3]
EVIL = """</title></style><script>alert("1")</script><b title='x'>&amp;"""


@pytest.fixture(autouse=True)
def _english_again():
    yield
    activate()


def carried_font(page: str) -> TTFont:
    (data,) = re.findall(r'url\("data:font/woff;base64,([^"]+)"\)', page)
    return TTFont(BytesIO(base64.b64decode(data)))


def test_a_title_that_is_markup_is_shown_and_not_obeyed():
    page = report_page(EVIL, [EVIL, Table((EVIL, EVIL), ((EVIL, EVIL),))])
    assert "<script" not in page
    assert page.count("</style>") == page.count("</title>") == 1
    assert page.count("&lt;script&gt;") == 8


def test_a_template_that_asks_for_what_it_is_not_given_fails():
    with pytest.raises(UndefinedError):
        page_of("piece.html", "a piece")


def test_no_page_writes_its_own_escapes():
    for path in (ROOT / "drills" / "reports").glob("*.py"):
        assert "import escape" not in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("language", ["en", "de"])
def test_a_page_carries_every_letter_that_it_shows(language):
    activate(language)
    page = parent_questions.parents_sheet()
    shown = set(re.sub(r"<style>.*?</style>|<script>.*?</script>|<[^>]*>", "", page, flags=re.S))
    assert {ord(letter) for letter in shown - set("\n")} <= carried_font(page).getBestCmap().keys()
    assert f'"{FAMILY}"' in page.partition("base64")[2], "no rule of the page's style uses it"


def test_a_page_carries_no_more_of_the_font_than_what_may_be_needed():
    few, more = len(font_face("<p>abc</p>")), len(font_face("<p>ŵẃẅẁĉćċč</p>"))
    assert few < more < 16_000


def test_a_font_is_the_same_whenever_it_is_made():
    """So that a sheet with the same seed is the same file."""
    from drills.reports.page_font import _woff

    first = font_face("<p>ö</p>")
    _woff.cache_clear()
    assert font_face("<p>ö</p>") == first


def test_letters_that_the_font_lacks_are_left_to_the_computer():
    font = carried_font(report_page("रोहन", ["楽"]))
    assert ord("र") not in font.getBestCmap()
    assert ord("a") in font.getBestCmap()


def test_marks_over_letters_stay_where_they_belong():
    """A letter and its sign apart (Unicode NFD) need the font's rules of placing."""
    assert "GPOS" in carried_font(report_page("b\u0307", []))
    assert "GPOS" not in carried_font(report_page("b", []))
