"""An invented melody written down as partwise MusicXML 4.0."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from landmarks.line import Line, line_of
from landmarks.melody import Melody, MelodyBar, MelodyNote
from landmarks.stave import TREBLE, Clef
from landmarks.translation import gettext_noop

_DIVISIONS = 4
"""Of a quarter note."""
_BEAMED = "eighth"


def melody_line(melody: Melody) -> Line:
    """Return a melody as a line of music."""
    bars = "".join(_bar(melody, number) for number in range(len(melody.bars)))
    return line_of(
        '<score-partwise version="4.0"><part-list><score-part id="P1">'
        '<part-name print-object="no"/></score-part></part-list>'
        f'<part id="P1">{bars}</part></score-partwise>',
        gettext_noop("invented"),
    )


def _bar(melody: Melody, number: int) -> str:
    bar = melody.bars[number]
    length = melody.beats * _DIVISIONS
    voices = [
        "".join(_notes(bar, stave)) if clef == bar.clef else _whole_rest(length, stave)
        for stave, clef in enumerate(melody.clefs, 1)
    ]
    attributes = _attributes(melody) if number == 0 else ""
    last = number == len(melody.bars) - 1
    end = '<barline location="right"><bar-style>light-heavy</bar-style></barline>' * last
    back = f"<backup><duration>{length}</duration></backup>"
    return f'<measure number="{number + 1}">{attributes}{back.join(voices)}{end}</measure>'


def _attributes(melody: Melody) -> str:
    clefs = "".join(_clef(clef, stave) for stave, clef in enumerate(melody.clefs, 1))
    return (
        f"<attributes><divisions>{_DIVISIONS}</divisions><key><fifths>0</fifths></key>"
        f"<time><beats>{melody.beats}</beats><beat-type>4</beat-type></time>"
        f"<staves>{len(melody.clefs)}</staves>{clefs}</attributes>"
    )


def _clef(clef: Clef, stave: int) -> str:
    sign = "G" if clef == TREBLE else "F"
    return f'<clef number="{stave}"><sign>{sign}</sign><line>{clef.line}</line></clef>'


def _notes(bar: MelodyBar, stave: int) -> Iterator[str]:
    for value, group in groupby(bar.notes, key=lambda note: note.value.type):
        notes = list(group)
        beamed = value == _BEAMED and len(notes) == 2
        for place, note in enumerate(notes):
            beam = f'<beam number="1">{("begin", "end")[place]}</beam>' if beamed else ""
            yield _note(note, stave, beam)


def _note(note: MelodyNote, stave: int, beam: str) -> str:
    pitch, value = note.pitch, note.value
    what = (
        "<rest/>"
        if pitch is None
        else f"<pitch><step>{pitch.letter}</step><octave>{pitch.octave}</octave></pitch>"
    )
    return (
        f"<note>{what}<duration>{int(value.quarters * _DIVISIONS)}</duration><voice>{stave}</voice>"
        f"<type>{value.type}</type>{'<dot/>' * value.dots}<staff>{stave}</staff>{beam}</note>"
    )


def _whole_rest(length: int, stave: int) -> str:
    return (
        f'<note><rest measure="yes"/><duration>{length}</duration><voice>{stave}</voice>'
        f"<staff>{stave}</staff></note>"
    )
