"""Clefs as scores name them: a sign and a line."""

from __future__ import annotations

from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, TREBLE, Clef
from landmarks.translation import _, noted

_MARKED = {"G": TREBLE.pitch, "F": BASS.pitch, "C": MIDDLE_C}
"""The pitch of the line that a sign marks."""
_NAMES = {
    ("G", 1): noted("French violin"),
    ("C", 1): noted("soprano"),
    ("C", 2): noted("mezzo-soprano"),
    ("C", 3): noted("alto"),
    ("C", 4): noted("tenor"),
    ("C", 5): noted("baritone"),
    ("F", 3): noted("baritone"),
    ("F", 5): noted("sub-bass"),
}
"""The names of the clefs that are neither treble nor bass: handbook names, from memory."""


def clef_of(sign: str, line: int) -> Clef | None:
    """Give the clef of a sign (G, F, C) on a line, None for a sign that marks no pitch."""
    for clef in (TREBLE, BASS):
        if (_MARKED.get(sign), line) == (clef.pitch, clef.line):
            return clef
    marked: Pitch | None = _MARKED.get(sign)
    if marked is None:
        return None
    return Clef(
        _NAMES.get((sign, line), _("{sign} on line {line}").format(sign=sign, line=line)),
        marked,
        line,
    )
