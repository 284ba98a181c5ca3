"""What is told of a piece, or of a shelf of them: a teacher's words and numbers."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from drills.cards.card import Card
from drills.reports.terminal import Table
from drills.review.notes import note_name
from drills.scores.readiness import PieceNote, Readiness
from drills.scores.shelf import Shelf, ShelfPiece
from drills.text.formatting import listed, percent
from landmarks.names import in_own_clef, landmark_name, spoken_naming
from landmarks.pitch import Pitch
from landmarks.score import Hand
from landmarks.stave import CLEFS, Clef
from landmarks.translation import _, gettext_noop, ngettext

NONE = "-"
RANKING = gettext_noop(
    "Ranked by how many of the note heads are secured, in tenths; then by the fewest sharps and "
    "flats, then by the fewest different note values, then by what is one step from a secured note."
)
COLUMNS = gettext_noop(
    "Covered: note heads secured + one step from it. Learn: different notes that are not secured. "
    "Signs: sharps and flats of the key signature + signs beside notes. Right hand / left hand."
)
POSITIONS = gettext_noop(
    "Positions: how many times at least a hand is laid anew on five neighbouring white keys. Leap: "
    "the most steps between a hand's outer notes of one moment and the next."
)


def piece_title(piece: Readiness) -> str:
    """Name the piece and count its notes."""
    return ngettext(
        "{title}: {count} note to read, {different} different",
        "{title}: {count} notes to read, {different} different",
        piece.heads, title=piece.title, different=len(piece.notes),
    )  # fmt: skip


def piece_parts(
    piece: Readiness, nickname: str | None, week: Sequence[Card]
) -> Iterator[str | Table]:
    """Tell of one piece in sentences and tables; `week` are the cards proposed from it."""
    yield coverage_sentence(piece, nickname)
    yield first_bars_sentence(piece)
    yield Table(
        _in_words(_OF_RANGE),
        tuple(
            (
                _hand(found.hand), _(found.clef.name), str(found.count), str(found.different),
                _name(found.lowest, found.clef), _name(found.highest, found.clef),
            )
            for found in piece.ranges
        ),
    )  # fmt: skip
    yield week_sentence(week)
    yield Table(_in_words(_HEADINGS), tuple(_row(note) for note in piece.notes))
    yield signs_sentence(piece)
    yield movement_sentence(piece)
    yield from (*_aside(piece), *_left_out(piece), *_assumed(piece))


_OF_RANGE = (
    gettext_noop("hand"),
    gettext_noop("clef"),
    gettext_noop("notes"),
    gettext_noop("different"),
    gettext_noop("from"),
    gettext_noop("to"),
)
_HEADINGS = (
    gettext_noop("note"),
    gettext_noop("hand"),
    gettext_noop("times"),
    gettext_noop("first bar"),
    gettext_noop("nearest landmark"),
    gettext_noop("state"),
    gettext_noop("covered"),
)


def _in_words(headings: Iterable[str]) -> tuple[str, ...]:
    return tuple(_(heading) for heading in headings)


def _hand(hand: Hand | None) -> str:
    return NONE if hand is None else _(hand)


def _row(note: PieceNote) -> tuple[str, ...]:
    return (
        piece_note_name(note.written, note.clef),
        listed([_hand(hand) for hand in sorted(note.hands, key=_hand_order)]),
        str(note.count),
        note.first_bar,
        nearest(note),
        _(note.state) if note.state else NONE,
        _(note.cover),
    )


def _hand_order(hand: Hand | None) -> int:
    return [*Hand, None].index(hand)


def _name(written: Pitch, clef: Clef) -> str:
    return landmark_name(written, clef, spoken_naming())


def piece_note_name(written: Pitch, clef: Clef) -> str:
    """Name a note as a teacher says it, middle C and notes about it with their clef."""
    name = _name(written, clef)
    if clef.name in CLEFS and in_own_clef(written, clef):
        return name
    return _("{note} ({clef} clef)").format(note=name, clef=_(clef.name))


def nearest(note: PieceNote) -> str:
    """Say how far a note lies from its landmark: "1 step above treble G"."""
    if note.anchor is None or note.steps is None:
        return _("none in this clef")
    anchor = _name(note.anchor.pitch, note.anchor.clef)
    if not note.steps:
        on_place = _("on the place of {landmark}").format(landmark=anchor)
        return on_place if note.written.alteration else anchor
    size = abs(note.steps)
    if note.steps > 0:
        return ngettext(
            "{count} step above {landmark}", "{count} steps above {landmark}", size, landmark=anchor
        )
    return ngettext(
        "{count} step below {landmark}", "{count} steps below {landmark}", size, landmark=anchor
    )


def coverage_sentence(piece: Readiness, nickname: str | None) -> str:
    """Say how much of the piece is secured, one step from it, and further."""
    further = piece.heads - piece.secured - piece.one_step
    parts = {
        "secured": _part(piece.secured, piece), "one_step": _part(piece.one_step, piece),
        "further": _part(further, piece),
    }  # fmt: skip
    if nickname is None:
        return _(
            "Of its notes {secured} are landmarks of “{set}”, {one_step} lie one step from a "
            "landmark, {further} further."
        ).format(set=_(piece.landmarks.title), **parts)
    return _(
        "{name} has {secured} of its notes secured; {one_step} lie one step from a secured note, "
        "{further} further."
    ).format(name=nickname, **parts)


def _part(heads: int, piece: Readiness) -> str:
    return f"{heads} ({percent(piece.share(heads))})"


def first_bars_sentence(piece: Readiness) -> str:
    """Say in which bars the first notes stand that are not secured."""
    if piece.first_unsecured is None:
        return _("Every note of it is secured.")
    if piece.first_further is None:
        return _(
            "The first note that is not secured stands in bar {bar}; none lies further than one "
            "step."
        ).format(bar=piece.first_unsecured)
    return _(
        "The first note that is not secured stands in bar {bar}, the first further than one step "
        "in bar {further}."
    ).format(bar=piece.first_unsecured, further=piece.first_further)


def signs_sentence(piece: Readiness) -> str:
    """Say which sharps and flats there are, and what they need."""
    signed = [note for note in piece.notes if note.written.alteration or note.signs]
    if not signed:
        return _("Sharps and flats: none.")
    told = ", ".join(_signed(note) for note in signed)
    needed = [note for note in signed if note.natural_state is not None]
    if not needed:
        return _("Sharps and flats: {notes}.").format(notes=told)
    unsure = [
        f"{piece_note_name(note.written.natural(), note.clef)} ({_(note.natural_state or NONE)})"
        for note in needed
        if note.natural_state != "ink"
    ]
    need = (
        _("First secure their lines and spaces without a sign: {notes}.").format(
            notes=", ".join(dict.fromkeys(unsure))
        )
        if unsure
        else _("Their lines and spaces are secured; only the signs are to be minded.")
    )
    return " ".join((_("Sharps and flats: {notes}.").format(notes=told), need))


def _signed(note: PieceNote) -> str:
    name = piece_note_name(note.written, note.clef)
    if not note.written.alteration:
        name = _("{note} natural").format(note=name)
    by_key = note.count - note.signs
    parts = [_("{count} by the key signature").format(count=by_key)] * bool(by_key)
    parts += [_("{count} by a sign of its own").format(count=note.signs)] * bool(note.signs)
    return f"{name} ({', '.join(parts)})"


def movement_sentence(piece: Readiness) -> str:
    """Say how the hands move, and whether together."""
    hands = [
        _("{hand}: largest leap {leap}, {positions}").format(
            hand=_("right hand") if move.hand is Hand.RIGHT else _("left hand"),
            leap=ngettext("{count} step", "{count} steps", move.largest_leap),
            positions=ngettext("{count} position", "{count} positions", move.positions),
        )
        for move in piece.movements
    ]
    if not hands:
        return _("Hands: not told.")
    together = [_("both hands together")] if piece.hands_together else []
    if len(hands) > 1 and not together:
        together = [_("the hands take turns")]
    sentence = "; ".join([*hands, *together])
    return f"{sentence[0].upper()}{sentence[1:]}. {_(POSITIONS)}"


def _aside(piece: Readiness) -> Iterator[str]:
    if piece.aside:
        parts = ", ".join(
            ngettext("{part} ({count} note)", "{part} ({count} notes)", count, part=part)
            for part, count in piece.aside.items()
        )
        yield _("Not the pianist's and left aside: {parts}.").format(parts=parts)


def _left_out(piece: Readiness) -> Iterator[str]:
    if piece.left_out:
        counts = ", ".join(f"{count} {_(reason)}" for reason, count in piece.left_out.items())
        yield _("Left out, as no key is to be read there: {counts}.").format(counts=counts)


def _assumed(piece: Readiness) -> Iterator[str]:
    if piece.assumed:
        yield _("About the file: {told}.").format(told="; ".join(piece.assumed))


def week_sentence(week: Sequence[Card]) -> str:
    """Say which notes to practise this week."""
    if not week:
        return _("This week: nothing new to learn; play it.")
    notes = ", ".join(note_name(card) for card in week)
    return _("This week: {notes}.").format(notes=notes)


def shelf_title(shelf: Shelf, nickname: str | None) -> str:
    """Count the pieces and say whose readiness ranks them."""
    count = len(shelf.pieces)
    if nickname:
        return ngettext(
            "{count} piece, the readiest first, for {name}",
            "{count} pieces, the readiest first, for {name}",
            count, name=nickname,
        )  # fmt: skip
    return ngettext(
        "{count} piece, the readiest first, by the landmarks alone, as no pupil is named",
        "{count} pieces, the readiest first, by the landmarks alone, as no pupil is named",
        count,
    )


def shelf_parts(shelf: Shelf) -> Iterator[str | Table]:
    """Rank a shelf of pieces in a table, and say what its columns mean and what was not read."""
    titles = Counter(piece.readiness.title for piece in shelf.pieces)
    rows = (_shelf_row(piece, titles[piece.readiness.title] == 1) for piece in shelf.pieces)
    yield Table(_in_words(_SHELF), tuple(rows))
    yield f"{_(RANKING)} {_(COLUMNS)} {_(POSITIONS)}"
    yield from (
        _("Not read: {sentence}").format(sentence=sentence) for sentence in shelf.unreadable
    )
    if shelf.waiting:
        yield ngettext(
            "The reading was stopped: {count} file was not come to.",
            "The reading was stopped: {count} files were not come to.",
            shelf.waiting,
        )


_SHELF = (
    gettext_noop("piece"),
    gettext_noop("covered"),
    gettext_noop("learn"),
    gettext_noop("range"),
    gettext_noop("leap"),
    gettext_noop("positions"),
    gettext_noop("signs"),
    gettext_noop("hands"),
)
_LONGEST_TITLE = 28
"""In letters: more would break the lines of a terminal of 80."""


def _shelf_row(piece: ShelfPiece, is_only_one: bool) -> tuple[str, ...]:
    """Return what is told of a piece, which goes by its file if another has the same title."""
    told = piece.readiness
    title = told.title if is_only_one else piece.name
    lowest, highest = told.notes_by_height[0].written, told.notes_by_height[-1].written
    return (
        textwrap.shorten(title, _LONGEST_TITLE, placeholder="…"),
        f"{100 * told.share(told.secured):.0f}+{100 * told.share(told.one_step):.0f}%",
        str(len(told.to_learn)),
        _("{lowest} to {highest}").format(lowest=lowest, highest=highest),
        _of_hands([move.largest_leap for move in told.movements]),
        _of_hands([move.positions for move in told.movements]),
        f"{told.signature}+{told.accidentals}",
        hands_word(told),
    )


def _of_hands(numbers: Iterable[int]) -> str:
    return "/".join(str(number) for number in numbers) or NONE


def hands_word(piece: Readiness) -> str:
    """Say which hands play: "right", "in turn", "together"."""
    if piece.hands_together:
        return _("together")
    if len(piece.movements) > 1:
        return _("in turn")
    return _hand(piece.movements[0].hand) if piece.movements else _("not told")
