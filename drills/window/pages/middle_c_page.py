"""Middle C asked for in the place of a line of music, as in practice."""

from __future__ import annotations

from drills.cards.card_rules import rule_of
from drills.sessions.line_session import LineView
from drills.sessions.piano_state import MIDDLE_C_CARD
from drills.sessions.view import View
from drills.window.pages.card_page import PageSetting
from landmarks.names import Naming


def middle_c_page(
    view: LineView, naming: Naming, width: int, height: int
) -> tuple[View, PageSetting]:
    """Return the view and the page on which middle C is asked for."""
    shown = View(
        showing=view.showing, card=MIDDLE_C_CARD, phase=view.phase, tuning=True,
        tuning_again=view.tuning_again, help=rule_of(MIDDLE_C_CARD).first_help,
    )  # fmt: skip
    return shown, PageSetting(width, height, False, naming, (MIDDLE_C_CARD,))
