"""How each kind of card is asked: what a key means to it, which help it gives and when.

Pure: a card, what has been played of it, a key; nothing is kept here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from drills.cards.card import Card, Kind
from drills.cards.help import Help
from landmarks.answer import Answer, Verdict, judge, spelled_beside
from landmarks.pitch import Pitch

OCTAVE = 12


@dataclass(frozen=True)
class CardRule:
    """A note on its stave, answered by its one key; other ways of asking differ where they say."""

    card: Card

    first_help: ClassVar[Help] = Help.NONE
    """The help that belongs to the card itself; it is no hint."""
    most_help: ClassVar[Help] = Help.KEY
    """The most help that is given unless the answer is told."""
    _help_after_misses: ClassVar[tuple[tuple[int, Help], ...]] = (
        (2, Help.LANDMARK),
        (3, Help.KEY),
    )

    @property
    def moves(self) -> int:
        """How many moves there are to play after the first key: none but on a contour."""
        return 0

    def judged(self, key: int, move: int = 0, last: int | None = None) -> Answer:
        """Say what a key means; on a contour to which `move` after which `last` key."""
        card = self.card
        return judge(card.target, card.clef, key, card.anchor if card.steps else None)

    def brushable(self, touched: Sequence[int]) -> Pitch | None:
        """Return the note whose neighbours may be brushed along with it in a touch of them."""
        return self.card.target

    def help_after(self, misses: int) -> Help:
        """Return the help that comes of itself after so many wrong keys."""
        given = [help_ for least, help_ in self._help_after_misses if misses >= least]
        return max([self.first_help, *given])

    def more_help(self, given: Help) -> Help:
        """Return the next help after what is given, when the teacher asks for more."""
        return max(given, Help(min(given + 1, self.most_help)))

    def told(self) -> Help:
        """Return the help that tells the answer."""
        return Help.NAME

    def landmark(self) -> Card | None:
        """Return the landmark to show beside the note as help; a landmark has its own look."""
        anchor = self.card.anchor
        return Card(Kind.LANDMARK, self.card.clef, anchor, anchor) if self.card.steps else None


class BesideRule(CardRule):
    """A step from a landmark that is shown beside it from the start."""

    first_help = Help.LANDMARK


class LitKeyRule(CardRule):
    """A key that is lit on the strip."""

    first_help = most_help = Help.KEY
    _help_after_misses: ClassVar = ()

    def told(self) -> Help:
        """The key is told from the start."""
        return Help.KEY

    def landmark(self) -> Card | None:
        """There is no stave."""
        return None


class KeyToFindRule(CardRule):
    """A key asked for by its name or its place: any octave will do."""

    _help_after_misses: ClassVar = ((2, Help.KEY),)

    def judged(self, key: int, move: int = 0, last: int | None = None) -> Answer:
        """Measure the distance from the nearest key of that name."""
        return judge(self._nearest(key), self.card.clef, key)

    def brushable(self, touched: Sequence[int]) -> Pitch | None:
        """Return the key of that name that is in the touch, or the nearest to its first key."""
        same = [key for key in touched if (key - self.card.key) % OCTAVE == 0]
        return self._nearest((same or touched)[0])

    def more_help(self, given: Help) -> Help:
        """The key is lit at once."""
        return Help.KEY

    def told(self) -> Help:
        """The key is lit."""
        return Help.KEY

    def landmark(self) -> Card | None:
        """There is no stave."""
        return None

    def _nearest(self, key: int) -> Pitch:
        octaves = round((key - self.card.key) / OCTAVE)
        return Pitch(self.card.target.diatonic + 7 * octaves, self.card.target.alteration)


class ContourRule(CardRule):
    """A line of shapes: any key begins, then only the direction counts."""

    _help_after_misses: ClassVar = ((2, Help.LANDMARK), (3, Help.KEY))

    @property
    def moves(self) -> int:
        """How many moves follow the first shape."""
        return len(self.card.contour.moves)

    def judged(self, key: int, move: int = 0, last: int | None = None) -> Answer:
        """Compare the way from the key before with the way of the shapes; any key begins."""
        if last is None:
            return Answer(Verdict.EXACT, Pitch.of_key(key), 0)
        before = Pitch.of_key(last)
        played = spelled_beside(before, key)
        right = _way(key - last) == _way(self.card.contour.moves[move - 1])
        verdict = Verdict.EXACT if right else Verdict.DIRECTION
        return Answer(verdict, played, played.diatonic - before.diatonic)

    def brushable(self, touched: Sequence[int]) -> Pitch | None:
        """No key is the right one, so none is brushed beside it."""
        return None

    def told(self) -> Help:
        """A key that goes the right way is lit."""
        return Help.KEY

    def landmark(self) -> Card | None:
        """There is no note to read."""
        return None


def rule_of(card: Card) -> CardRule:
    """Return how a card is asked."""
    match card.kind, card.form:
        case Kind.CONTOUR, _:
            return ContourRule(card)
        case Kind.KEY, "":
            return LitKeyRule(card)
        case Kind.KEY, _:
            return KeyToFindRule(card)
        case Kind.STEP, form if form:
            return BesideRule(card)
    return CardRule(card)


def _way(size: int) -> int:
    return (size > 0) - (size < 0)
