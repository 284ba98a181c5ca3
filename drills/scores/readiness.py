"""What a piece asks a pupil to read, and how much of it is covered by what is secured."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from drills.cards.card import Card, Kind, Place, cards_of
from drills.learning.response import State
from landmarks.pitch import Pitch
from landmarks.score import Hand, PlacedNote, Score, ScoreNote, place_notes
from landmarks.score.movement import Movement, hands_together, movements
from landmarks.sets import Anchor, LandmarkSet
from landmarks.stave import CLEFS, Clef
from landmarks.translation import gettext_noop

StateOf = Callable[[Card], State | None]
"""Returns the state of a note for a pupil, or None where no pupil is named."""


class Cover(StrEnum):
    """How far a note of a piece is covered."""

    SECURED = gettext_noop("secured")
    """Secured itself; without a pupil, a landmark of the set."""
    ONE_STEP = gettext_noop("one step")
    """A natural on a neighbouring line or space of a secured note in its clef."""
    FURTHER = gettext_noop("further")
    """Further from everything that is secured."""


@dataclass(frozen=True)
class PieceNote:
    """One different note of a piece: a place under a clef, a sharp or flat included.

    `card` is None under a clef that has no cards, `anchor` and `steps` where the landmark set has
    no landmark in the clef. `natural_state` is the state of its line or space without its sharp or
    flat. `signs` counts the heads that need a sign beside them, or hold one
    that stands earlier in the bar.
    """

    clef: Clef
    written: Pitch
    hands: tuple[Hand | None, ...]
    count: int
    first_bar: str
    anchor: Anchor | None
    steps: int | None
    signs: int
    card: Card | None
    state: State | None
    natural_state: State | None
    cover: Cover


@dataclass(frozen=True)
class StaveRange:
    """What one hand reads in one clef."""

    hand: Hand | None
    clef: Clef
    lowest: Pitch
    highest: Pitch
    different: int
    count: int


@dataclass(frozen=True)
class Readiness:
    """A piece as a pupil would read it.

    `notes` are its different notes, bass clef first and from the lowest upwards; `heads` counts
    all note heads read anew, `secured` and `one_step` those covered so. `signature` counts the
    sharps and flats of its key signatures that its notes need, `accidentals` the heads that need a
    sign of their own, `values` the different note values, dotted ones apart. `first_unsecured` and
    `first_further` are bars, None if there is none. `aside` counts the heads of staves that no
    hand of the pianist plays, by part.
    """

    title: str
    landmarks: LandmarkSet
    notes: tuple[PieceNote, ...]
    ranges: tuple[StaveRange, ...]
    heads: int
    secured: int
    one_step: int
    signature: int
    accidentals: int
    values: int
    first_unsecured: str | None
    first_further: str | None
    movements: tuple[Movement, ...]
    hands_together: bool
    aside: Mapping[str, int]
    left_out: Mapping[str, int]
    assumed: tuple[str, ...]

    @property
    def to_learn(self) -> tuple[PieceNote, ...]:
        """The different notes that are not secured."""
        return tuple(note for note in self.notes if note.cover is not Cover.SECURED)

    @property
    def notes_by_height(self) -> tuple[PieceNote, ...]:
        """The different notes from the lowest upwards."""
        return tuple(sorted(self.notes, key=lambda note: note.written))

    def share(self, heads: int) -> float:
        """Return so many heads as a share of all."""
        return heads / self.heads if self.heads else 0.0


def pianists_notes(score: Score) -> tuple[ScoreNote, ...]:
    """Return the notes of the staves that a hand plays, or all where no stave has a hand."""
    own = tuple(note for note in score.notes if note.stave.hand is not None)
    return own or score.notes


def piece_cards(scores: Iterable[Score], landmarks: LandmarkSet) -> tuple[Card, ...]:
    """Return a card for every different note of some pieces that a card can show.

    Its line or space without a sharp or flat is given as well. Where the landmark set has a card
    for a note, it is that one.
    """
    known = {card.place: card for card in cards_of(landmarks)}
    found: dict[Place, Card] = {}
    for score in scores:
        for note in pianists_notes(score):
            for written in (note.written, note.written.natural()):
                card = _card(note.clef, written, landmarks)
                if card is not None:
                    found.setdefault(card.place, known.get(card.place, card))
    return tuple(found.values())


def _card(clef: Clef, written: Pitch, landmarks: LandmarkSet) -> Card | None:
    if clef not in CLEFS.values():
        return None
    return Card(Kind.PIECE, clef, written, landmarks.nearest(written, clef).pitch)


def readiness(
    score: Score, landmarks: LandmarkSet, secured: Iterable[Card], state_of: StateOf
) -> Readiness:
    """Tell what must be read in a piece and how far it is covered by the cards in `secured`."""
    own = pianists_notes(score)
    cards = {(card.clef, card.target): card for card in piece_cards([score], landmarks)}
    cover_of = _cover_by({(card.clef, card.target) for card in secured})
    groups: dict[tuple[Clef, Pitch], list[PlacedNote]] = {}
    for note in place_notes(own, landmarks):
        groups.setdefault((note.note.clef, note.note.written), []).append(note)
    notes = []
    for (clef, written), heads in groups.items():
        card = cards.get((clef, written))
        natural = (clef, written.natural())
        notes.append(
            PieceNote(
                clef=clef,
                written=written,
                hands=tuple(dict.fromkeys(head.note.stave.hand for head in heads)),
                count=len(heads),
                first_bar=heads[0].note.bar,
                anchor=heads[0].anchor,
                steps=heads[0].steps,
                signs=sum(not head.note.in_signature for head in heads),
                card=card,
                state=state_of(card) if card else None,
                natural_state=state_of(cards[natural]) if natural in cards else None,
                cover=cover_of(clef, written),
            )
        )
    notes.sort(key=lambda note: (note.clef.name, note.written))
    covers = {(note.clef, note.written): note.cover for note in notes}
    heads_by_cover = [(note.bar, covers[note.clef, note.written]) for note in own]
    counts = Counter(cover for _, cover in heads_by_cover)
    return Readiness(
        title=score.title,
        landmarks=landmarks,
        notes=tuple(notes),
        ranges=_ranges(own),
        heads=len(own),
        secured=counts[Cover.SECURED],
        one_step=counts[Cover.ONE_STEP],
        signature=len({_sign(n) for n in own if n.in_signature and n.written.alteration}),
        accidentals=sum(not note.in_signature for note in own),
        values=len({(note.value, note.dots) for note in own if not note.is_grace}),
        first_unsecured=next((b for b, cover in heads_by_cover if cover != Cover.SECURED), None),
        first_further=next((b for b, cover in heads_by_cover if cover == Cover.FURTHER), None),
        movements=movements(own),
        hands_together=hands_together((*score.notes, *score.held)),
        aside=Counter(note.stave.part for note in score.notes) - Counter(n.stave.part for n in own),
        left_out=score.left_out,
        assumed=score.assumed,
    )


def _sign(note: ScoreNote) -> tuple[str, int]:
    return note.written.letter, note.written.alteration


def _cover_by(secured: set[tuple[Clef, Pitch]]) -> Callable[[Clef, Pitch], Cover]:
    near = {(clef, pitch.stepped(steps)) for clef, pitch in secured for steps in (-1, 1)}

    def cover(clef: Clef, written: Pitch) -> Cover:
        if (clef, written) in secured:
            return Cover.SECURED
        # A sharp or flat is a key of its own, which no step from a white key leads to.
        return Cover.ONE_STEP if (clef, written) in near else Cover.FURTHER

    return cover


def _ranges(notes: Iterable[ScoreNote]) -> tuple[StaveRange, ...]:
    """Return what each hand reads in each clef, the right hand first."""
    groups: dict[tuple[Hand | None, Clef], list[Pitch]] = {}
    for note in notes:
        groups.setdefault((note.stave.hand, note.clef), []).append(note.written)
    order = [*Hand, None]
    return tuple(
        StaveRange(hand, clef, min(written), max(written), len(set(written)), len(written))
        for (hand, clef), written in sorted(
            groups.items(), key=lambda group: (order.index(group[0][0]), -len(group[1]))
        )
    )
