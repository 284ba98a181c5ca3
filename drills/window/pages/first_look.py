"""The one question to a new pupil: is this picture known? From it follows where she begins."""

from __future__ import annotations

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.stave_card import Look, empty_card, engraved_staves, note, stave_card
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.marks import KNOWN, NEW_TO_ME
from landmarks.pitch import Pitch
from landmarks.stave import BASS, TREBLE
from landmarks.translation import _

YES, NO = "known", "new to me"
_SHOWN = ((TREBLE, "G4", 7.0), (TREBLE, "C5", 11.0), (BASS, "F3", 7.0), (BASS, "C3", 11.0))
"""Notes on the picture, by where they stand in stave spaces."""


class FirstLookPage(ButtonScene):
    """Two staves with notes, and two answers; `known` is None if the page was left."""

    def __init__(self) -> None:
        """Ask; nothing is lost by the answer that Enter means."""
        super().__init__(NO)
        self.known: bool | None = None

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the two answers, each with a picture."""
        tall, across, gap = round(height * 0.2), round(width * 0.36), height // 20
        left, top = width // 2 - across - gap // 2, round(height * 0.74)
        return [
            Button(NO, _("new to me"), Box(left, top, across, tall), size=0.2, outline=NEW_TO_ME),
            Button(
                YES, _("I know this"), Box(left + across + gap, top, across, tall), size=0.2,
                outline=KNOWN,
            ),
        ]  # fmt: skip

    def page(self, width: int, height: int) -> list[Layer]:
        """Show the staves under the question."""
        top, bottom = round(height * 0.19), round(height * 0.7)
        box = Box(width // 10, top, width - 2 * (width // 10), bottom - top)
        card = stave_card(box, (TREBLE, BASS))
        notes = [note(card, clef, Pitch.parse(name), Look.INK, x) for clef, name, x in _SHOWN]
        title = _("do you know this picture?")
        return [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(title, width / 2, height * 0.12, height * 0.07, palette.INK, 0.95 * width),
            *empty_card(box),
            *engraved_staves(card),
            *notes,
        ]

    def act(self, action: str) -> None:
        """Take the answer."""
        self.known, self.over = action == YES, True
