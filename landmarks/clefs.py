"""Clefs as scores name them: a sign and a line."""

from __future__ import annotations

from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, TREBLE, Clef
from landmarks.translation import _, gettext_noop

_MARKED = {"G": TREBLE.pitch, "F": BASS.pitch, "C": MIDDLE_C}
"""The pitch of the line that a sign marks."""
_NAMES = {
    ("G", 1): gettext_noop("French violin"),
    ("C", 1): gettext_noop("soprano"),
    ("C", 2): gettext_noop("mezzo-soprano"),
    ("C", 3): gettext_noop("alto"),
    ("C", 4): gettext_noop("tenor"),
    ("C", 5): gettext_noop("baritone"),
    ("F", 3): gettext_noop("baritone"),
    ("F", 5): gettext_noop("sub-bass"),
}
"""The names of the clefs that are neither treble nor bass: handbook names, from memory."""


def clef_of(sign: str, line: int) -> Clef | None:
    """Return the clef of a sign (G, F, C) on a line, None for a sign that marks no pitch."""
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
