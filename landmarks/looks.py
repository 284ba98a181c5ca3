"""What a note looks like on its stave, as a teacher points at it."""

from __future__ import annotations

from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, BOTTOM_LINE, TOP_LINE, TREBLE, Clef, is_line
from landmarks.translation import _, gettext_noop

_BY_SIGN = {
    TREBLE: gettext_noop("the line that the clef curls around"),
    BASS: gettext_noop("the line between the two dots"),
}
_MIDDLE_C = {
    TREBLE: gettext_noop("a short line of its own, below"),
    BASS: gettext_noop("a short line of its own, above"),
}
_ON_THE_STAVE = (
    gettext_noop("the bottom line"),
    gettext_noop("the bottom space"),
    gettext_noop("the second line"),
    gettext_noop("the second space"),
    gettext_noop("the middle line"),
    gettext_noop("the third space"),
    gettext_noop("the fourth line"),
    gettext_noop("the top space"),
    gettext_noop("the top line"),
)


def look_of(pitch: Pitch, clef: Clef) -> str:
    """Return where a note stands, in a few words: "the line that the clef curls around".

    >>> look_of(Pitch.parse("G4"), TREBLE)
    'the line that the clef curls around'
    >>> look_of(Pitch.parse("C5"), TREBLE)
    'the third space'
    """
    position = clef.position(pitch)
    if position == clef.line_position and clef in _BY_SIGN:
        return _(_BY_SIGN[clef])
    if pitch.diatonic == MIDDLE_C.diatonic and clef in _MIDDLE_C:
        return _(_MIDDLE_C[clef])
    if BOTTOM_LINE <= position <= TOP_LINE:
        return _(_ON_THE_STAVE[position])
    return _beyond(position)


def _beyond(position: int) -> str:
    above = position > TOP_LINE
    outside = position - TOP_LINE if above else BOTTOM_LINE - position
    if outside == 1:
        return _("just above the stave") if above else _("just below the stave")
    lines = outside // 2
    if is_line(position):
        message = _("short line {n} above") if above else _("short line {n} below")
    else:
        message = _("above short line {n}") if above else _("below short line {n}")
    return message.format(n=lines)
