"""How a practice sheet fits the trouble that the review names first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drills.cards.card import Card, Kind
from drills.review.notes import note_name
from drills.review.trouble import Finding, Trouble
from landmarks.translation import _, gettext_noop

_HINTS = {
    Trouble.CLEF: gettext_noop("Before each note, say which clef it stands in."),
    Trouble.DIRECTION: gettext_noop(
        "Up the page is to the right on the piano. Trace first, then play."
    ),
    Trouble.OCTAVE: gettext_noop("Lay your hand over the landmark's own key first."),
    Trouble.GAP: gettext_noop("You have met these notes before. The landmarks come first."),
    Trouble.CARELESS: gettext_noop("Take your time: look first, then play."),
    Trouble.GUESSED: gettext_noop("Only a few notes this week. Find each of them three times."),
    Trouble.SLOW: gettext_noop("Look at a note, cover it with a finger, then play it."),
    Trouble.NOTE: gettext_noop(
        "Look closely at {note}: where on the stave, and where on the piano?"
    ),
    Trouble.QUIET: gettext_noop("A few minutes every day, always at the same time."),
}
_FEW = 3


@dataclass(frozen=True)
class SheetFit:
    """What a sheet is about: a sentence for the pupil, notes to show and notes to look for."""

    hint: str
    cards: tuple[Card, ...]
    asked: tuple[Card, ...]


def fit_sheet(week: Sequence[Card], troubles: Sequence[Finding]) -> SheetFit:
    """Return what a sheet with the week's cards is about, for a pupil with these troubles.

    The notes that the first trouble names come first and are looked for in the line of music;
    after much guessing there are a few landmarks only.
    """
    if not troubles:
        return SheetFit("", tuple(week), tuple(week))
    first = troubles[0]
    cards = tuple({card.target: card for card in (*week, *first.cards)}.values())
    cards = tuple(sorted(cards, key=lambda card: card not in first.cards))[: max(len(week), 1)]
    if first.trouble is Trouble.GUESSED:
        landmarks = [card for card in cards if card.kind is Kind.LANDMARK]
        cards = tuple(landmarks or cards)[:_FEW]
    named = note_name(first.cards[0]) if first.cards else ""
    asked = tuple(card for card in cards if card in first.cards) or cards
    return SheetFit(_(_HINTS[first.trouble]).format(note=named), cards, asked)
