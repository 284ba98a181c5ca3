"""The guide's pictures: pages of the window, drawn as the window draws them."""

from __future__ import annotations

from datetime import UTC, datetime

from drills.cards.card import Card, Kind, cards_of
from drills.learning.planner import Planner
from drills.learning.response import State
from drills.reports.guide import GuidePictures, svg_picture
from drills.sessions import events
from drills.sessions.practice import Drill
from drills.sessions.view import View
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.closing import Today, closing_page
from drills.window.pages.first_page import FirstPage
from drills.window.pages.marks import marks_of
from landmarks.names import usual_naming
from landmarks.pitch import Pitch
from landmarks.sets import DEFAULT_SET, built_in_sets
from landmarks.stave import BASS

SIZE = (1024, 768)
SET = built_in_sets()[DEFAULT_SET]
ASKED = Card(Kind.STEP, BASS, Pitch.parse("C4"), Pitch.parse("F3"))
WRONG_KEYS = (52, 57, 55)
INVENTED = ("Comet", "Marlow", "Pebble", "Wren")
BETWEEN_KEYS_MS = 2000.0
SETTLED_MS = 100.0


def guide_pictures() -> GuidePictures:
    """Return every picture, its words in the language that is spoken."""
    setting = PageSetting(*SIZE, False, usual_naming(), cards_of(SET))
    first_page = FirstPage(marks_of(dict.fromkeys(INVENTED, "")))
    return GuidePictures(
        first_page=svg_picture(*SIZE, first_page.layers(*SIZE)),
        practice=svg_picture(*SIZE, practice_page(_view_after_wrong_keys(), setting)),
        own_stave=svg_picture(*SIZE, closing_page(_some_weeks_on(), setting)),
    )


def _view_after_wrong_keys() -> View:
    """Return what a pupil sees who looked for a note in three wrong places."""
    drill = Drill(Planner([ASKED], (), 0), datetime(2026, 3, 2, tzinfo=UTC))
    drill.handle(events.Begin(), 0.0)
    drill.handle(events.OnScreen(drill.view.showing), 0.0)
    for place, key in enumerate(WRONG_KEYS, 1):
        t = place * BETWEEN_KEYS_MS
        drill.handle(events.KeyPressed(key), t)
        drill.handle(events.TimePassed(), t + SETTLED_MS)
        drill.handle(events.KeyReleased(key), t + 2 * SETTLED_MS)
    return drill.view


def _some_weeks_on() -> Today:
    """Return a day on which the landmarks are in ink, one of them since today."""
    cards = cards_of(SET)
    after = {card: State.INK if card.kind is Kind.LANDMARK else State.PENCIL for card in cards}
    latest = max(card for card in cards if card.kind is Kind.LANDMARK)
    return Today(after | {latest: State.PENCIL}, after, 40, 0)
