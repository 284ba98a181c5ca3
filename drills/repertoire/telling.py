"""What is told of a piece, or of a shelf of them: a teacher's words and numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drills.card import Card
from drills.repertoire.readiness import PieceNote, Readiness
from drills.repertoire.shelf import Shelf, ShelfPiece
from drills.review.notes import note_name
from drills.terminal import Table
from landmarks.names import SPOKEN, landmark_name
from landmarks.pitch import Pitch
from landmarks.score import Hand
from landmarks.stave import Clef

NONE = "-"
RANKING = (
    "Ranked by how many of the note heads are secured or one step from it, then by the fewest "
    "notes to learn, then by the fewest hand positions."
)
COLUMNS = (
    "Covered: note heads secured + one step from it. Learn: different notes that are not secured. "
    "Signs: sharps and flats. Right hand / left hand."
)
POSITIONS = (
    "Positions: how many times at least a hand is laid anew on five neighbouring white keys. Leap: "
    "the most steps between a hand's outer notes of one moment and the next."
)


def piece_title(piece: Readiness) -> str:
    """Name the piece and count its notes."""
    plural = "s" * (piece.heads != 1)
    return f"{piece.title}: {piece.heads} note{plural} to read, {len(piece.notes)} different"


def piece_parts(
    piece: Readiness, nickname: str | None, week: Sequence[Card]
) -> Iterator[str | Table]:
    """Tell of one piece in sentences and tables; `week` are the cards proposed from it."""
    yield coverage_sentence(piece, nickname)
    yield first_bars_sentence(piece)
    yield Table(
        ("hand", "clef", "notes", "different", "from", "to"),
        tuple(
            (
                str(found.hand or NONE), found.clef.name, str(found.count), str(found.different),
                _name(found.lowest, found.clef), _name(found.highest, found.clef),
            )
            for found in piece.ranges
        ),
    )  # fmt: skip
    yield week_sentence(week)
    yield Table(_HEADINGS, tuple(_row(note) for note in piece.notes))
    yield signs_sentence(piece)
    yield movement_sentence(piece)
    yield from (*_aside(piece), *_left_out(piece), *_assumed(piece))


_HEADINGS = ("note", "hand", "times", "first bar", "nearest landmark", "state", "covered")


def _row(note: PieceNote) -> tuple[str, ...]:
    return (
        piece_note_name(note.written, note.clef),
        " and ".join(str(hand or NONE) for hand in sorted(note.hands, key=_hand_order)),
        str(note.count),
        note.first_bar,
        nearest(note),
        str(note.state or NONE),
        str(note.cover),
    )


def _hand_order(hand: Hand | None) -> int:
    return [*Hand, None].index(hand)


def _name(written: Pitch, clef: Clef) -> str:
    return landmark_name(written, clef, SPOKEN)


def piece_note_name(written: Pitch, clef: Clef) -> str:
    """Name a note as a teacher says it, middle C and notes about it with their clef."""
    name = _name(written, clef)
    return name if name.startswith(clef.name) else f"{name} ({clef.name} clef)"


def nearest(note: PieceNote) -> str:
    """Say how far a note lies from its landmark: "1 step above treble G"."""
    if note.anchor is None or note.steps is None:
        return "none in this clef"
    anchor = _name(note.anchor.pitch, note.anchor.clef)
    if not note.steps:
        return f"on the place of {anchor}" if note.written.alteration else anchor
    size, side = abs(note.steps), "above" if note.steps > 0 else "below"
    return f"{size} step{'s' * (size > 1)} {side} {anchor}"


def coverage_sentence(piece: Readiness, nickname: str | None) -> str:
    """Say how much of the piece is secured, one step from it, and further."""
    further = piece.heads - piece.secured - piece.one_step
    one_step, rest = _part(piece.one_step, piece), _part(further, piece)
    if nickname is None:
        return (
            f"Of its notes {_part(piece.secured, piece)} are landmarks of "
            f"“{piece.landmarks.title}”, {one_step} lie one step from a landmark, {rest} further."
        )
    return (
        f"{nickname} has {_part(piece.secured, piece)} of its notes secured; {one_step} lie one "
        f"step from a secured note, {rest} further."
    )


def _part(heads: int, piece: Readiness) -> str:
    return f"{heads} ({piece.share(heads):.0%})"


def first_bars_sentence(piece: Readiness) -> str:
    """Say in which bars the first notes stand that are not secured."""
    if piece.first_unsecured is None:
        return "Every note of it is secured."
    first = f"The first note that is not secured stands in bar {piece.first_unsecured}"
    if piece.first_further is None:
        return f"{first}; none lies further than one step."
    return f"{first}, the first further than one step in bar {piece.first_further}."


def signs_sentence(piece: Readiness) -> str:
    """Say which sharps and flats there are, and what they need."""
    signed = [note for note in piece.notes if note.written.alteration or note.signs]
    if not signed:
        return "Sharps and flats: none."
    told = ", ".join(_signed(note) for note in signed)
    needed = [note for note in signed if note.natural_state is not None]
    if not needed:
        return f"Sharps and flats: {told}."
    unsure = [
        f"{piece_note_name(note.written.natural(), note.clef)} ({note.natural_state})"
        for note in needed
        if note.natural_state != "ink"
    ]
    need = (
        f"First secure their lines and spaces without a sign: {', '.join(dict.fromkeys(unsure))}."
        if unsure
        else "Their lines and spaces are secured; only the signs are to be minded."
    )
    return f"Sharps and flats: {told}. {need}"


def _signed(note: PieceNote) -> str:
    name = piece_note_name(note.written, note.clef)
    if not note.written.alteration:
        name = f"{name} natural"
    by_key = note.count - note.signs
    parts = [f"{by_key} by the key signature"] * bool(by_key)
    parts += [f"{note.signs} by a sign of its own"] * bool(note.signs)
    return f"{name} ({', '.join(parts)})"


def movement_sentence(piece: Readiness) -> str:
    """Say how the hands move, and whether together."""
    hands = [
        f"{move.hand} hand: largest leap {move.largest_leap} "
        f"step{'s' * (move.largest_leap != 1)}, {move.positions} "
        f"position{'s' * (move.positions != 1)}"
        for move in piece.movements
    ]
    if not hands:
        return "Hands: not told."
    together = ["both hands together"] if piece.hands_together else []
    if len(hands) > 1 and not together:
        together = ["the hands take turns"]
    sentence = "; ".join([*hands, *together])
    return f"{sentence[0].upper()}{sentence[1:]}. {POSITIONS}"


def _aside(piece: Readiness) -> Iterator[str]:
    if piece.aside:
        parts = ", ".join(f"{part} ({count} notes)" for part, count in piece.aside.items())
        yield f"Not the pianist's and left aside: {parts}."


def _left_out(piece: Readiness) -> Iterator[str]:
    if piece.left_out:
        counts = ", ".join(f"{count} {reason}" for reason, count in piece.left_out.items())
        yield f"Left out, as no key is to be read there: {counts}."


def _assumed(piece: Readiness) -> Iterator[str]:
    if piece.assumed:
        yield f"About the file: {'; '.join(piece.assumed)}."


def week_sentence(week: Sequence[Card]) -> str:
    """Say which notes to practise this week."""
    if not week:
        return "This week: nothing new to learn; play it."
    return f"This week: {', '.join(note_name(card) for card in week)}."


def shelf_title(shelf: Shelf, nickname: str | None) -> str:
    """Count the pieces and say whose readiness ranks them."""
    whose = f"for {nickname}" if nickname else "by the landmarks alone, as no pupil is named"
    return f"{len(shelf.pieces)} pieces, the readiest first, {whose}"


def shelf_parts(shelf: Shelf) -> Iterator[str | Table]:
    """Rank a shelf of pieces in a table, and say what its columns mean and what was not read."""
    yield Table(_SHELF, tuple(_shelf_row(piece) for piece in shelf.pieces))
    yield f"{RANKING} {COLUMNS} {POSITIONS}"
    yield from (f"Not read: {sentence}" for sentence in shelf.unreadable)


_SHELF = ("piece", "covered", "learn", "range", "leap", "positions", "signs", "hands")
_LONGEST_NAME = 28


def _shelf_row(piece: ShelfPiece) -> tuple[str, ...]:
    told = piece.readiness
    lowest, highest = told.notes_by_height[0].written, told.notes_by_height[-1].written
    return (
        piece.name if len(piece.name) <= _LONGEST_NAME else f"…{piece.name[1 - _LONGEST_NAME :]}",
        f"{100 * told.share(told.secured):.0f}+{100 * told.share(told.one_step):.0f}%",
        str(len(told.to_learn)),
        f"{lowest} to {highest}",
        _of_hands([move.largest_leap for move in told.movements]),
        _of_hands([move.positions for move in told.movements]),
        str(sum(note.count for note in told.notes if note.written.alteration)),
        hands_word(told),
    )


def _of_hands(numbers: Iterable[int]) -> str:
    return "/".join(str(number) for number in numbers) or NONE


def hands_word(piece: Readiness) -> str:
    """Say which hands play: "right", "in turn", "together"."""
    if piece.hands_together:
        return "together"
    if len(piece.movements) > 1:
        return "in turn"
    return str(piece.movements[0].hand) if piece.movements else "not told"
