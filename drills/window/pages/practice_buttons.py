"""The buttons of a practice session: few and small beside a card, larger at the end."""

from __future__ import annotations

from drills.cards.card import READING_KINDS
from drills.engrave.layer import Box
from drills.sessions.view import View
from drills.window.pages.buttons import Button, corner
from drills.window.pages.card_page import PageSetting
from landmarks.translation import _

GO_ON, ENOUGH, THIS_CLEF = "go on", "enough", "this clef"
SMALL = 0.46


def at_the_end(width: int, height: int) -> list[Button]:
    """Return the buttons of the closing page: another round, or enough for today."""
    return [
        Button(GO_ON, _("go on"), corner(width, height, right=False), size=SMALL),
        Button(ENOUGH, _("enough"), corner(width, height, right=True), size=SMALL),
    ]


def beside_the_card(view: View, setting: PageSetting) -> list[Button]:
    """Return the buttons in the lower corners of a card: enough, and only this clef.

    The second stands where a note is asked on a stave and the session has both clefs.
    """
    card = setting.card_box
    tall, across = round(setting.height * 0.05), round(setting.height * 0.17)
    edge = setting.margin // 2
    top = card.bottom - tall - edge
    right = Box(card.right - across - edge, top, across, tall)
    buttons = [Button(ENOUGH, _("enough"), right, size=SMALL)]
    asked = view.card
    clefs = {one.clef for one in setting.cards if one.kind in READING_KINDS}
    if asked is not None and asked.kind in READING_KINDS and len(clefs) > 1:
        left = Box(card.x + edge, top, 2 * across, tall)
        words = _("today only the {clef} clef").format(clef=_(asked.clef.name))
        buttons.append(Button(THIS_CLEF, words, left, size=SMALL))
    return buttons
