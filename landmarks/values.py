"""Note values, and the names a teacher calls them by: British, American, rhythm syllables."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from landmarks.translation import Saying, _, gettext_noop


@dataclass(frozen=True)
class NoteValue:
    """How long a note lasts as it is drawn: its note type as MusicXML 4.0 names it, its dots."""

    type: str
    dots: int = 0

    @property
    def quarters(self) -> Fraction:
        """The length in quarter notes: each dot adds half of what came before it."""
        return _QUARTERS[self.type] * (2 - Fraction(1, 2**self.dots))

    def __str__(self) -> str:
        """The type and its dots: "quarter", "quarter." with one dot."""
        return self.type + "." * self.dots


_QUARTERS = {
    "breve": Fraction(8), "whole": Fraction(4), "half": Fraction(2), "quarter": Fraction(1),
    "eighth": Fraction(1, 2), "16th": Fraction(1, 4), "32nd": Fraction(1, 8),
    "64th": Fraction(1, 16),
}  # fmt: skip
TYPES = tuple(_QUARTERS)
"""The note types that have names here, the longest first (MusicXML 4.0, note-type-value)."""


@dataclass(frozen=True)
class ValueNaming:
    """A way of naming note values; `names` holds those it has a name for."""

    name: str
    names: tuple[tuple[NoteValue, str], ...]
    dotted: str = gettext_noop("dotted {value}")
    """How a value with one dot is named if it has no name of its own."""

    def of(self, value: NoteValue, say: Saying = _) -> str | None:
        """Name a note value, or give None where this naming has no name for it."""
        named = dict(self.names)
        plain = named.get(NoteValue(value.type))
        if value in named:
            return say(named[value])
        if value.dots == 1 and plain and self.dotted:
            return say(self.dotted).format(value=say(plain))
        return None


def _names(**names: str) -> tuple[tuple[NoteValue, str], ...]:
    """Return names by note type; an underscore before the type, as in _16th, is passed over."""
    return tuple((NoteValue(type_.lstrip("_")), name) for type_, name in names.items())


# The names are common practice, no source.
BRITISH = ValueNaming(
    "british",
    _names(
        breve=gettext_noop("breve"),
        whole=gettext_noop("semibreve"),
        half=gettext_noop("minim"),
        quarter=gettext_noop("crotchet"),
        eighth=gettext_noop("quaver"),
        _16th=gettext_noop("semiquaver"),
        _32nd=gettext_noop("demisemiquaver"),
        _64th=gettext_noop("hemidemisemiquaver"),
    ),
)
AMERICAN = ValueNaming(
    "american",
    _names(
        breve=gettext_noop("double whole note"),
        whole=gettext_noop("whole note"),
        half=gettext_noop("half note"),
        quarter=gettext_noop("quarter note"),
        eighth=gettext_noop("eighth note"),
        _16th=gettext_noop("sixteenth note"),
        _32nd=gettext_noop("thirty-second note"),
        _64th=gettext_noop("sixty-fourth note"),
    ),
)
SYLLABLES = ValueNaming(
    "syllables",
    (
        *_names(whole="ta-a-a-a", half="ta-a", quarter="ta", eighth="ti", _16th="tika"),
        (NoteValue("half", 1), "ta-a-a"),
        (NoteValue("quarter", 1), "tam"),
    ),
    dotted="",
)
VALUE_NAMINGS = {naming.name: naming for naming in (BRITISH, AMERICAN, SYLLABLES)}


def parse_value(text: str) -> tuple[NoteValue, ValueNaming] | None:
    """Read a note value by any of its names, and say whose name it is; None if it is none."""
    wanted = " ".join(text.casefold().split())
    values = [NoteValue(type_, dots) for dots in (0, 1) for type_ in TYPES]
    return next(
        (
            (value, naming)
            for naming in VALUE_NAMINGS.values()
            for value in values
            for name in (naming.of(value, gettext_noop), naming.of(value))
            if name is not None and name.casefold() == wanted
        ),
        None,
    )
