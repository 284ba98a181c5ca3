"""Draws the README's pictures anew, from the invented studio.

    python -m tests.readme_pictures

Needs Chromium; writes the pictures in sample_sessions.
"""

from __future__ import annotations

import base64
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

from drills.cards.card import Kind, cards_of, key_cards
from drills.commands import main
from drills.engrave.layer import page_png
from drills.learning.planner import Planner
from drills.storage.studio import Studio
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.closing import Today, closing_page
from drills.window.pages.first_page import FirstPage
from drills.window.pages.marks import marks_of
from landmarks.names import LETTER
from landmarks.stave import BASS
from tests.chromium import chromium
from tests.scripted_drill import FIVE, PlayedDrill, step

SAMPLES = Path(__file__).parents[1] / "sample_sessions"
PUPIL, DAY = "Pebble", "2026-10-30"
STUDIO = Studio(SAMPLES)
CARDS = (*cards_of(FIVE), *key_cards(FIVE))
SIZE = (1024, 768)
ENDED = datetime(2026, 10, 19, 20, tzinfo=UTC)
WIDTH, MARGIN = 700, 6
SCALE = 1.5
"""Pixels of the picture for each of the page, so that it is crisp on fine screens."""
BOTTOM = "document.querySelector('.legend').getBoundingClientRect().bottom"


def draw_first_page(picture: Path) -> None:
    """Draw the question who is playing, with the pupils of the studio."""
    marks = marks_of({pupil.nickname: "" for pupil in STUDIO.pupils()})
    picture.write_bytes(page_png(*SIZE, FirstPage(marks).layers(*SIZE)))


def draw_practice(picture: Path) -> None:
    """Draw a card after wrong keys, with the landmark to read from."""
    middle_c = step("C4", "F3", BASS)
    drill = PlayedDrill(middle_c)
    for key in (52, 57):
        drill.play(key)
    drill.press(55)
    setting = PageSetting(*SIZE, False, LETTER, CARDS)
    picture.write_bytes(page_png(*SIZE, practice_page(drill.view, setting)))


def draw_closing(picture: Path) -> None:
    """Draw what a session of one of the pupils ends on."""
    answers = [answer for answer in STUDIO.known_pupil("Marlow").responses() if answer.at < ENDED]
    earlier = [answer for answer in answers if answer.at < ENDED - timedelta(days=1)]
    before, after = (
        {card: planner.standing(card, ENDED).state for card in CARDS if card.kind is not Kind.KEY}
        for planner in (Planner(CARDS, earlier), Planner(CARDS, answers))
    )
    today = Today(before, after, len(answers) - len(earlier), 0)
    setting = PageSetting(*SIZE, False, LETTER, CARDS)
    picture.write_bytes(page_png(*SIZE, closing_page(today, setting)))


def draw_review(picture: Path) -> None:
    """Draw the top of a pupil's page, down to the notes on the stave."""
    with tempfile.TemporaryDirectory() as folder, chromium() as page:
        file = Path(folder) / "review.html"
        main(
            ["review", "--studio", str(SAMPLES), "--pupil", PUPIL, "--on", DAY, "--page", str(file)]
        )
        page.open(file, WIDTH)
        clip = {"x": 0, "y": 0, "width": WIDTH, "scale": SCALE}
        clip["height"] = page.evaluate(BOTTOM) + MARGIN
        shot = page.command("Page.captureScreenshot", clip=clip, captureBeyondViewport=True)
        picture.write_bytes(base64.b64decode(shot["data"]))


if __name__ == "__main__":
    draw_first_page(SAMPLES / "first-page.png")
    draw_practice(SAMPLES / "practice.png")
    draw_closing(SAMPLES / "own-stave.png")
    draw_review(SAMPLES / "review.png")
