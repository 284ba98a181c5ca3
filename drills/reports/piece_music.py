"""The first bars of a piece, engraved: what is not yet secured stands in pencil."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from drills.cards.card import Card, Kind
from drills.engrave import palette
from drills.engrave.line import engraved_line
from drills.learning.response import State
from drills.reports.drawing import picture
from drills.reports.sheet_staves import landmarks_picture
from drills.reports.stave_picture import PENCIL_LOOK
from drills.scores.readiness import Cover, PieceNote, Readiness
from drills.scores.reading import lines_in_time
from landmarks.line import Line
from landmarks.names import spoken_naming
from landmarks.pitch import Pitch
from landmarks.score import ScoreError
from landmarks.stave import Clef
from landmarks.translation import _

_WIDTH, _HEIGHT, _SPACE = 900, 460, 12.0
"""The room of the bars, in the picture's own units, and the largest stave space."""
_HEAD = re.compile(r' data-note="([^"]+)"')


@dataclass(frozen=True)
class PieceMusic:
    """The first bars of a piece: which they are, how they look, and the landmarks to read from.

    `states` are those in which there is a note.
    """

    bars: str
    picture: Markup
    states: frozenset[State]
    landmarks: Markup | None


def piece_music(path: Path, tune: int | None, piece: Readiness) -> PieceMusic | None:
    """Return the first bars of a score's tune, or None if they cannot be engraved."""
    try:
        line = next(iter(lines_in_time(path, 1, tune=tune or 1)), None)
        return None if line is None else _music(line, piece)
    except (ScoreError, ValueError):
        return None


def _music(line: Line, piece: Readiness) -> PieceMusic:
    notes = {_place(note.clef, note.written): note for note in piece.notes}
    shown = [notes.get(_place(note.clef, note.pitch)) for note in line.notes]
    pencilled = {
        note.id
        for note, found in zip(line.notes, shown, strict=True)
        if found is not None and found.cover is not Cover.SECURED
    }
    return PieceMusic(
        line.shown,
        _bars_picture(line, pencilled),
        frozenset(State.PENCIL if note.id in pencilled else State.INK for note in line.notes),
        _landmarks([note for note in shown if note is not None]),
    )


def _place(clef: Clef, pitch: Pitch) -> tuple[str, int, int, int]:
    """Return where a note stands under its clef: the same for a clef that sounds an octave away."""
    return clef.pitch.letter, clef.line, clef.position(pitch), pitch.alteration


def _bars_picture(line: Line, pencilled: set[str]) -> Markup:
    engraved = engraved_line(line, _WIDTH, _HEIGHT, _SPACE, palette.INK)

    def look(found: re.Match[str]) -> str:
        return f" {PENCIL_LOOK}" if found[1] in pencilled else ""

    box = 0, 0, round(engraved.width), round(engraved.height)
    title = _("{bars}; notes not yet secured are drawn in pencil").format(bars=line.shown)
    return picture([_HEAD.sub(look, engraved.markup)], box, title, "bars")


def _landmarks(shown: list[PieceNote]) -> Markup | None:
    """Draw the landmarks from which the notes in pencil are read."""
    cards = list(dict.fromkeys(_anchors(shown)))
    return landmarks_picture(cards, spoken_naming()) if cards else None


def _anchors(shown: list[PieceNote]) -> Iterator[Card]:
    for note in shown:
        if note.cover is not Cover.SECURED and note.anchor is not None:
            anchor = note.anchor
            yield Card(Kind.LANDMARK, anchor.clef, anchor.pitch, anchor.pitch)
