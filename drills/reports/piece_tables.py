"""Pieces for programs: what the terminal tells, as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import msgspec

from drills.cards.card import Card
from drills.scores.readiness import PieceNote
from drills.scores.shelf import ShelfPiece


def json_of(pieces: Iterable[tuple[ShelfPiece, Sequence[Card]]]) -> str:
    """Return all that is told of pieces, and the cards proposed from each, as a list of objects."""
    objects = [_object(piece, week) for piece, week in pieces]
    return msgspec.json.format(msgspec.json.encode(objects), indent=1).decode()


def _object(piece: ShelfPiece, week: Sequence[Card]) -> dict[str, Any]:
    told = piece.readiness
    return {
        "file": piece.name,
        "title": told.title,
        "set": told.landmarks.name,
        "heads": told.heads,
        "secured": told.secured,
        "one_step": told.one_step,
        "signature": told.signature,
        "accidentals": told.accidentals,
        "values": told.values,
        "to_learn": len(told.to_learn),
        "first_unsecured": told.first_unsecured,
        "first_further": told.first_further,
        "ranges": [
            {
                "hand": found.hand,
                "clef": found.clef.name,
                "lowest": str(found.lowest),
                "highest": str(found.highest),
                "different": found.different,
                "heads": found.count,
            }
            for found in told.ranges
        ],
        "hands": [
            {"hand": move.hand, "largest_leap": move.largest_leap, "positions": move.positions}
            for move in told.movements
        ],
        "together": told.hands_together,
        "notes": [_note_object(note) for note in told.notes],
        "week": [card.id for card in week],
        "aside": told.aside,
        "left_out": told.left_out,
        "assumed": told.assumed,
    }


def _note_object(note: PieceNote) -> dict[str, Any]:
    return {
        "card": note.card.id if note.card else None,
        "clef": note.clef.name,
        "note": str(note.written),
        "hands": note.hands,
        "heads": note.count,
        "first_bar": note.first_bar,
        "landmark": str(note.anchor.pitch) if note.anchor else None,
        "steps": note.steps,
        "signs": note.signs,
        "state": note.state,
        "covered": note.cover,
    }
