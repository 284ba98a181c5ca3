"""A line of music: a few bars as MusicXML, and every note head in it as it stands on the stave."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from operator import itemgetter
from xml.etree import ElementTree

from landmarks.clefs import clef_of
from landmarks.pitch import LETTERS, Pitch
from landmarks.stave import TREBLE, Clef
from landmarks.translation import LazyMessage, _
from landmarks.values import TYPES, NoteValue

_USUAL_LINES = {"G": 2, "F": 4, "C": 3}
"""Where a sign stands if the file does not say (MusicXML 4.0, element line)."""


@dataclass(frozen=True)
class LineNote:
    """One note head: what it is and when it begins, in quarter notes from the line's start.

    `id` is its id in the line's MusicXML; `stave` counts staves from the top; `value` is None
    for a grace note and for a value without a name. `is_held` tells that a tie leads to it, so
    that it is not played anew.
    """

    id: str
    pitch: Pitch
    clef: Clef
    stave: int
    value: NoteValue | None
    onset: Fraction
    is_held: bool = False
    is_grace: bool = False

    @property
    def key(self) -> int:
        """The piano key (MIDI key number) that plays it."""
        return self.pitch.midi

    @property
    def spot(self) -> str:
        """The note in one word, for a session file: "treble/G4/quarter"."""
        return f"{self.clef.name}/{self.pitch}/{self.value or 'other'}"

    def coincides(self, other: LineNote) -> bool:
        """Return whether two voices share this place of the stave at this moment."""
        return (self.onset, self.stave, self.pitch) == (other.onset, other.stave, other.pitch)


@dataclass(frozen=True)
class Line:
    """A few bars of music; `notes` stand in reading order, from left to right, top to bottom."""

    musicxml: str
    notes: tuple[LineNote, ...]
    source: str
    """Where it comes from, as session files have it: a file's name and bars, or "invented"."""
    told: LazyMessage | None = None
    """The same for people, where that says more."""

    @property
    def shown(self) -> str:
        """Where it comes from, in the reader's language."""
        return str(self.told) if self.told else _(self.source)


def line_of(musicxml: str, source: str, told: LazyMessage | None = None) -> Line:
    """Read a line from partwise MusicXML 4.0, and give each of its notes an id of its own.

    ValueError if it is not well-formed.
    """
    try:
        score = ElementTree.fromstring(musicxml)
    except ElementTree.ParseError as error:
        raise ValueError(
            _("{source}: not readable as MusicXML ({error})").format(source=source, error=error)
        ) from None
    for number, note in enumerate(score.iter("note")):
        note.set("id", f"n{number}")
    notes, staves = [], 0
    for part in score.iter("part"):
        reader = _PartReader(part)
        notes += list(reader.notes(staves))
        staves += reader.staves
    notes.sort(key=lambda note: (note.onset, note.stave, -note.pitch.midi))
    return Line(ElementTree.tostring(score, encoding="unicode"), tuple(notes), source, told)


@dataclass(frozen=True)
class _Head:
    element: ElementTree.Element
    onset: Fraction
    stave: int


class _PartReader:
    """Follows the cursor of one part through its bars."""

    def __init__(self, part: ElementTree.Element) -> None:
        self.staves = 1
        self._divisions = Fraction(1)
        self._clefs: list[tuple[Fraction, int, Clef]] = []
        self._heads: list[_Head] = []
        self._cursor = self._onset = Fraction(0)
        for measure in part.iter("measure"):
            self._measure(measure)

    def notes(self, first_stave: int) -> Iterator[LineNote]:
        """Return the pitched notes; the part's upper stave is number `first_stave` of the line."""
        for head in self._heads:
            pitch = head.element.find("pitch")
            if pitch is not None:
                yield LineNote(
                    str(head.element.get("id")), _pitch(pitch),
                    self._clef_at(head.onset, head.stave), first_stave + head.stave - 1,
                    _value(head.element), head.onset,
                    any(tie.get("type") == "stop" for tie in head.element.iter("tie")),
                    head.element.find("grace") is not None,
                )  # fmt: skip

    def _measure(self, measure: ElementTree.Element) -> None:
        furthest = self._cursor
        for element in measure:
            match element.tag:
                case "attributes":
                    self._attributes(element)
                case "backup":
                    self._cursor -= self._length(element)
                case "forward":
                    self._cursor += self._length(element)
                case "note":
                    self._note(element)
            furthest = max(furthest, self._cursor)
        self._cursor = furthest

    def _attributes(self, element: ElementTree.Element) -> None:
        self._divisions = Fraction(element.findtext("divisions", str(self._divisions)))
        self.staves = int(element.findtext("staves", str(self.staves)))
        for clef in element.iter("clef"):
            found = _clef(clef)
            if found is not None:
                self._clefs.append((self._cursor, int(clef.get("number", "1")), found))

    def _note(self, element: ElementTree.Element) -> None:
        if element.find("chord") is None:
            self._onset = self._cursor
            self._cursor += self._length(element)
        self._heads.append(_Head(element, self._onset, int(element.findtext("staff", "1"))))

    def _length(self, element: ElementTree.Element) -> Fraction:
        return Fraction(element.findtext("duration", "0")) / self._divisions

    def _clef_at(self, onset: Fraction, stave: int) -> Clef:
        """Return the clef in force; a clef written later in the file may come earlier in time."""
        before = [
            (at, clef) for at, of_stave, clef in self._clefs if of_stave == stave and at <= onset
        ]
        return sorted(before, key=itemgetter(0))[-1][1] if before else TREBLE


def _clef(element: ElementTree.Element) -> Clef | None:
    sign, line = element.findtext("sign", ""), element.findtext("line", "")
    octaves = int(element.findtext("clef-octave-change", "0"))
    clef = clef_of(sign, int(line or _USUAL_LINES.get(sign, 0)))
    if clef is None or not octaves:
        return clef
    return Clef(f"{sign}{clef.line}", clef.pitch.stepped(7 * octaves), clef.line)


def _pitch(element: ElementTree.Element) -> Pitch:
    letter, octave = element.findtext("step", "C"), int(element.findtext("octave", "4"))
    alteration = round(float(element.findtext("alter", "0")))
    return Pitch(octave * 7 + LETTERS.index(letter), max(-2, min(2, alteration)))


def _value(element: ElementTree.Element) -> NoteValue | None:
    type_ = element.findtext("type", "")
    if element.find("grace") is not None or type_ not in TYPES:
        return None
    return NoteValue(type_, len(element.findall("dot")))
