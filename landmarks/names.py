"""What a teacher calls a note: letters, fixed do or German letters, and a landmark's full name."""

from __future__ import annotations

from dataclasses import dataclass

from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import BASS, TREBLE, Clef
from landmarks.translation import Saying, _, gettext_noop, pgettext

SIGNS = {-2: "𝄫", -1: "♭", 0: "", 1: "♯", 2: "𝄪"}


@dataclass(frozen=True)
class Naming:
    """A way of naming notes: seven names from C upwards, and names that break the pattern."""

    name: str
    notes: tuple[str, ...]
    irregular: tuple[tuple[str, int, str], ...] = ()
    """(letter, alteration, name) where letter and sign together have a name of their own."""
    suffixes: tuple[tuple[int, str], ...] = tuple(SIGNS.items())

    def of(self, pitch: Pitch) -> str:
        """Name a pitch without its octave: "F♯", "fa♯", "Fis"."""
        for letter, alteration, name in self.irregular:
            if (letter, alteration) == (pitch.letter, pitch.alteration):
                return name
        return self.notes[pitch.diatonic % 7] + dict(self.suffixes)[pitch.alteration]


LETTER = Naming("letter", ("C", "D", "E", "F", "G", "A", "B"))
FIXED_DO = Naming("fixed-do", ("do", "re", "mi", "fa", "sol", "la", "si"))
GERMAN = Naming(
    "german",
    ("C", "D", "E", "F", "G", "A", "H"),
    irregular=(
        ("B", -1, "B"), ("E", -1, "Es"), ("E", -2, "Eses"), ("A", -1, "As"), ("A", -2, "Ases"),
    ),
    suffixes=((-2, "eses"), (-1, "es"), (0, ""), (1, "is"), (2, "isis")),
)  # fmt: skip
SPOKEN = Naming(
    "spoken",
    LETTER.notes,
    suffixes=((-2, " double flat"), (-1, " flat"), (0, ""), (1, " sharp"), (2, " double sharp")),
)
"""Letters with their signs in words, which need no music font and can be read aloud."""
NAMINGS = {naming.name: naming for naming in (LETTER, FIXED_DO, GERMAN)}


def octave_name(pitch: Pitch, naming: Naming) -> str:
    """Return a note with its octave as the naming's country writes it, "" if it writes none.

    German names begin again at every c: c' is middle C, c'' the one above, C the great octave's
    (Helmholtz's names, as in ISO 16's a').

    >>> octave_name(Pitch.parse("C5"), GERMAN), octave_name(Pitch.parse("B2"), GERMAN)
    ("c''", 'H')
    """
    if naming != GERMAN:
        return ""
    name = naming.of(pitch)
    if pitch.octave >= 3:
        return name.lower() + "'" * (pitch.octave - 3)
    return name + "," * (2 - pitch.octave)


def usual_naming() -> Naming:
    """Return how notes are named in the reader's language."""
    return NAMINGS[pgettext("put letter, fixed-do or german: how notes are named", "letter")]


def spoken_naming() -> Naming:
    """Return the same in words that need no music font."""
    usual = usual_naming()
    return SPOKEN if usual == LETTER else usual


_MIDDLE, _VERY, _HIGH, _LOW = (
    gettext_noop("middle {note}"),
    gettext_noop("very {note}"),
    gettext_noop("high {note}"),
    gettext_noop("low {note}"),
)
_OF_CLEF = {"treble": gettext_noop("treble {note}"), "bass": gettext_noop("bass {note}")}
_ABOVE_MIDDLE, _BELOW_MIDDLE = (
    gettext_noop("{note} above middle {c}"),
    gettext_noop("{note} below middle {c}"),
)


def landmark_name(pitch: Pitch, clef: Clef, naming: Naming = LETTER, say: Saying = _) -> str:
    """Name a note as a teacher says it: "treble G", "bass C", "middle C", "low C", "high C".

    Middle C and the names of the Cs, of bass F and of treble G are common practice, no source.
    The other notes follow from them: an octave reaches from bass C to the B above it and, as
    its mirror image, from treble C down to the D below it; beyond these a note is low or high.
    """
    note = naming.of(pitch)
    from_middle = pitch.diatonic - MIDDLE_C.diatonic
    if from_middle == 0:
        return say(_MIDDLE).format(note=note)
    if abs(from_middle) > 7:
        name = say(_HIGH if from_middle > 0 else _LOW).format(note=note)
        for _octave in range((abs(from_middle) - 1) // 7 - 1):
            name = say(_VERY).format(note=name)
        return name
    if in_own_clef(pitch, clef):
        return say(_OF_CLEF[clef.name]).format(note=note)
    beyond = _ABOVE_MIDDLE if from_middle > 0 else _BELOW_MIDDLE
    return say(beyond).format(note=note, c=naming.of(MIDDLE_C))


def in_own_clef(pitch: Pitch, clef: Clef) -> bool:
    """Return whether a note's name says its clef: "treble G"."""
    from_middle = pitch.diatonic - MIDDLE_C.diatonic
    own = TREBLE if from_middle > 0 else BASS
    return 0 < abs(from_middle) <= 7 and clef == own


def name_with_clef(pitch: Pitch, clef: Clef, naming: Naming = LETTER) -> str:
    """Name a note as above, middle C, which is a note of both clefs, with its clef."""
    name = landmark_name(pitch, clef, naming)
    if pitch.diatonic != MIDDLE_C.diatonic:
        return name
    return _("{note} ({clef} clef)").format(note=name, clef=_(clef.name))
