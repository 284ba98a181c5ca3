"""An independent reader of MusicXML: plain zipfile and ElementTree, no music21, none of ours.

Written from the text of MusicXML 4.0 (W3C Community Group Report, 2021): `backup` and `forward`
move in time, `chord` stands where the note before it does, `pitch` is what sounds under an octave
clef and an octave line, `number` and `staff` say which stave. Bars count from 1.
"""

from __future__ import annotations

import zipfile
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

STEPS = "CDEFGAB"
PITCH_CLEFS = {"G", "F", "C"}


@dataclass(frozen=True)
class Head:
    """A note head: where it stands and how it is written."""

    part: int
    stave: int
    bar: int
    offset: Fraction
    clef: tuple[str, int]
    step: str
    alter: int
    octave: int
    octaves: int
    value: str | None
    dots: int
    grace: bool
    held: bool

    @property
    def diatonic(self) -> int:
        return 7 * self.octave + STEPS.index(self.step)

    @property
    def key(self) -> int:
        return 12 * (self.octave + self.octaves + 1) + [0, 2, 4, 5, 7, 9, 11][
            STEPS.index(self.step)
        ] + self.alter  # fmt: skip


@dataclass
class Reading:
    """The heads of a score, what was left out, its bars' labels, its parts' numbers of staves."""

    bars: list[str] = field(default_factory=list)
    heads: list[Head] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    staves: list[int] = field(default_factory=list)


def tree(path: Path) -> ElementTree.Element:
    if not zipfile.is_zipfile(path):
        return ElementTree.parse(path).getroot()
    with zipfile.ZipFile(path) as archive:
        container = ElementTree.fromstring(archive.read("META-INF/container.xml"))
        name = container.find(".//{*}rootfile").get("full-path")
        return ElementTree.fromstring(archive.read(name))


def read(path: Path) -> Reading:
    root, reading = tree(path), Reading()
    assert root.tag == "score-partwise"
    longest = max((part.findall("measure") for part in root.findall("part")), key=len)
    reading.bars = [bar.get("number") or str(number) for number, bar in enumerate(longest, 1)]
    for number, part in enumerate(root.findall("part")):
        _Part(part, number, reading).read()
    return reading


class _Part:
    def __init__(self, part: ElementTree.Element, number: int, reading: Reading) -> None:
        self.part, self.number, self.reading = part, number, reading
        stated = [int(staves.text) for staves in part.iter("staves")]
        used = [int(staff.text) for staff in part.iterfind("measure/note/staff")]
        self.count = max([1, *stated, *used])
        reading.staves.append(self.count)

    def read(self) -> None:
        clefs, lines, found = {}, [], []
        divisions = Fraction(1)
        for bar, measure in enumerate(self.part.findall("measure"), 1):
            now = before = Fraction(0)
            for order, element in enumerate(measure):
                length = Fraction(element.findtext("duration") or 0) / divisions
                if element.tag == "attributes":
                    divisions = Fraction(element.findtext("divisions") or divisions)
                    for clef in element.findall("clef"):
                        clefs.setdefault(int(clef.get("number", 1)), []).append(
                            ((bar, now), order, clef)
                        )
                elif element.tag == "backup":
                    now = max(Fraction(0), now - length)
                elif element.tag == "forward":
                    now += length
                elif element.tag == "direction":
                    for line in element.iterfind("direction-type/octave-shift"):
                        staff = int(element.findtext("staff") or 1)
                        lines.append(((bar, now), staff, line))
                elif element.tag == "note":
                    if element.find("chord") is None:
                        before, now = now, now + length
                    found.append((bar, before, order, element))
        for bar, at, order, note in found:
            self._note(bar, at, order, note, clefs, lines)

    def _note(self, bar, at, order, note, clefs, lines) -> None:
        if note.find("rest") is not None:
            return
        if note.find("unpitched") is not None:
            self.reading.left_out["unpitched"] += 1
            return
        staff = int(note.findtext("staff") or 1)
        alter = float(note.findtext("pitch/alter") or 0)
        grace = note.find("grace") is not None
        sign, line, clef_octaves = self._clef(staff, (bar, at), order, grace, clefs)
        if note.find("cue") is not None:
            reason = "cue notes"
        elif note.get("print-object") == "no":
            reason = "not printed"
        elif alter != int(alter) or abs(alter) > 2:
            reason = "between the keys"
        elif sign not in PITCH_CLEFS:
            reason = "under a clef that names no note"
        else:
            reason = None
        if reason:
            self.reading.left_out[reason] += 1
            return
        octaves = clef_octaves + self._octave_line(staff, (bar, at), lines)
        ties = [tie.get("type") for tie in note.findall("tie") or note.iterfind("notations/tied")]
        self.reading.heads.append(
            Head(
                self.number, staff, bar, at, (sign, line), note.findtext("pitch/step").strip(),
                int(alter), int(note.findtext("pitch/octave")) - octaves, octaves,
                note.findtext("type"), len(note.findall("dot")), grace, "stop" in ties,
            )
        )  # fmt: skip

    def _clef(self, staff, at, order, grace, clefs):
        """The last clef of the stave up to here in time; before a grace note also in the text."""
        held = None
        for when, place, clef in clefs.get(staff, ()):
            if when < at or (when == at and not (grace and place > order)):
                held = clef
        if held is None:
            return ("F", 4, 0) if 1 < staff == self.count else ("G", 2, 0)
        sign = held.findtext("sign").strip()
        usual = {"G": 2, "F": 4, "C": 3}.get(sign, 0)
        octaves = int(held.findtext("clef-octave-change") or 0)
        return sign, int(held.findtext("line") or usual), octaves

    def _octave_line(self, staff, at, lines) -> int:
        octaves = 0
        for when, where, line in lines:
            if where == staff and when <= at:
                size = {"8": 1, "15": 2}.get(line.get("size", "8"), 0)
                octaves = {"down": size, "up": -size, "continue": octaves}.get(line.get("type"), 0)
        return octaves


def landmark_distance(diatonic: int, clef: str, anchors: list[tuple[str, str]]):
    """The nearest of (clef, note) anchors in the clef, of equals the first, and the steps."""
    own = [note for of, note in anchors if of == clef]
    steps = [diatonic - (7 * int(note[1:]) + STEPS.index(note[0])) for note in own]
    best = min(range(len(own)), key=lambda n: abs(steps[n]), default=None)
    return None if best is None else (own[best], steps[best])
