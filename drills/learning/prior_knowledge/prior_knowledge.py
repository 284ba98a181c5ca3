"""What the answers say of a pupil, and what the drill does because of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from drills.cards.card import READING_KINDS, Card
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.question import questions
from landmarks.names import FIXED_DO, GERMAN, LETTER, Naming
from landmarks.stave import BASS, CLEFS, TREBLE, Clef

READ_ODDS = 12.0
"""How much a clef that is read for another instrument raises the odds that a note in it is known.
From the usual 1 in 4 it makes 4 in 5, which two or three contrary answers overturn (prior)."""
LONG_LINE, SHORT_LINE = 7, 4
"""Moves in a line of shapes with a steady pulse, two bars of four shapes; and without. Common
practice, no source."""

_NAMINGS = {"letters": LETTER, "sol-fa": FIXED_DO, "german": GERMAN}


@dataclass(frozen=True)
class PriorKnowledge:
    """What a pupil can do before the first lesson, or cannot yet, as far as anyone has seen.

    `reasons` says for each claim why it is made, in words that follow "she".
    """

    claims: frozenset[str] = frozenset()
    denied: frozenset[str] = frozenset()
    reasons: Mapping[str, str] = field(default_factory=dict)

    @property
    def first_clef(self) -> Clef:
        """The clef that the stave begins with: the one that is not read already."""
        return BASS if self.reads(TREBLE) and not self.reads(BASS) else TREBLE

    @property
    def naming(self) -> Naming | None:
        """How notes are named, None if nothing is known of it."""
        return next((naming for name, naming in _NAMINGS.items() if name in self.claims), None)

    @property
    def line_length(self) -> int:
        """How many moves a line of shapes has."""
        return LONG_LINE if "pulse" in self.claims else SHORT_LINE

    @property
    def winding(self) -> bool:
        """Whether lines of shapes turn freely, with skips and repeated shapes."""
        return "clap-back" in self.claims

    @property
    def wants_voice(self) -> bool:
        """Whether words are to be read out, because she does not read them yet."""
        return "reads-words" in self.denied

    def reads(self, clef: Clef) -> bool:
        """Return whether a clef is read for another instrument."""
        return f"reads-{clef.name}" in self.claims

    def odds(self, cards: Collection[Card]) -> dict[Card, float]:
        """Return how much more likely each card is to be known than for another pupil."""
        read = {clef for clef in CLEFS.values() if self.reads(clef)}
        on_stave = (card for card in cards if card.kind in READING_KINDS)
        return {card: READ_ODDS for card in on_stave if card.clef in read}


NOTHING = PriorKnowledge()
"""Nobody has seen anything yet."""


def prior_knowledge_of(beginnings: Observations) -> PriorKnowledge:
    """Return what the latest answers say of a pupil."""
    claims: set[str] = set()
    denied: set[str] = set()
    reasons: dict[str, str] = {}
    for name, seen in beginnings.answers().items():
        choice = questions()[name].answers[seen.answer]
        claims.update(choice.claims)
        denied.update(choice.denies)
        reasons.update(dict.fromkeys((*choice.claims, *choice.denies), choice.reason))
    return PriorKnowledge(frozenset(claims), frozenset(denied), reasons)
