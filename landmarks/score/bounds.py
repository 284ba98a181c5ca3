"""Bounds on the numbers of a score file, held before music21 builds anything from them.

A single absurd number (an octave of a thousand million, a bar of as many beats) is well-formed in
every format, and would keep a reader busy for hours or fill the memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from xml.etree.ElementTree import Element

from landmarks.score import abc_tunes, humdrum_spines, midi_tracks, musicxml
from landmarks.score.files import MOST_NOTES, Form, ScoreFile, open_score
from landmarks.score.notes import ScoreError
from landmarks.translation import _

MOST_QUARTERS = 20_000
"""In a file, or in one of its notes: close on three hours at 120 in the minute."""
_RANGES: dict[str, tuple[Fraction, Fraction]] = {
    "octave": (Fraction(0), Fraction(9)),
    "clef-octave-change": (Fraction(-9), Fraction(9)),
    "staves": (Fraction(1), Fraction(64)),
    "staff": (Fraction(1), Fraction(64)),
    "line": (Fraction(-9), Fraction(9)),
    "fifths": (Fraction(-14), Fraction(14)),
    "beats": (Fraction(1), Fraction(256)),
    "beat-type": (Fraction(1), Fraction(256)),
    "divisions": (Fraction(Fraction(1), Fraction(1000)), Fraction(10**9)),
    "duration": (Fraction(0), Fraction(10**12)),
}
"""Of the numbers of MusicXML. An octave is 0 to 9 there (4.0, data type octave); the others are
unbounded in the standard and wider here than anything that is printed."""
_ABC_NUMBER = re.compile(r"\d{5,}")
_ABC_METRE = re.compile(r"^[ML]:|\[[ML]:[^\]]*\]")
_HEAD = re.compile(r"[A-Za-z+]:")
_DIGITS = re.compile(r"\d{4,}")


def checked_file(path: Path) -> ScoreFile:
    """Return a score file that is whole and whose numbers are such as can be read in a moment.

    Raises:
        ScoreError: it is none.
    """
    file = open_score(path)
    match file.form, file.content:
        case Form.MUSICXML, Element() as root:
            notes = musicxml.note_count(root)
            _check_musicxml(root, file.name)
        case Form.MIDI, bytes(data):
            midi_tracks.check_whole(data, file.name)
            notes, quarters = midi_tracks.extent(data)
            _refuse(quarters > MOST_QUARTERS, f"{quarters:.0f}", file.name)
        case Form.HUMDRUM, str(text):
            humdrum_spines.check_whole(text, file.name)
            notes = humdrum_spines.note_count(text)
            _check_lengths_of_humdrum(text, file.name)
        case _:
            notes = abc_tunes.note_count(str(file.content))
            _check_abc(str(file.content), file.name)
    if notes > MOST_NOTES:
        raise ScoreError(
            _(
                "{where}: this holds {notes} notes, more than {most_notes}; choose a single piece"
            ).format(where=file.name, notes=notes, most_notes=MOST_NOTES)
        )
    return file


def _refuse(is_out: bool, number: str, where: str) -> None:
    if is_out:
        raise ScoreError(
            _(
                "{where}: the number {number} in it is none that a score can have; save the score "
                "again"
            ).format(where=where, number=number[:20])
        )


def _check_musicxml(root: Element, where: str) -> None:
    divisions = Fraction(1)
    for element in root.iter():
        bounds = _RANGES.get(str(element.tag))
        if bounds is None:
            continue
        for number in _numbers(element):
            _refuse(not bounds[0] <= number <= bounds[1], str(element.text), where)
            if element.tag == "divisions":
                divisions = number
            elif element.tag == "duration":
                _refuse(number / divisions > MOST_QUARTERS, str(element.text), where)


def _numbers(element: Element) -> Iterator[Fraction]:
    """Yield the numbers of an element; beats may be a sum ("3+2"). What is no number is left."""
    for text in (element.text or "").split("+"):
        if re.fullmatch(r"\s*-?\d{1,15}(\.\d{1,15})?\s*", text):
            yield Fraction(text.strip())
        elif re.fullmatch(r"\s*[-+]?\d[\d.eE+-]*\s*", text):
            yield Fraction(10**15)


def _check_lengths_of_humdrum(text: str, where: str) -> None:
    for line in text.split("\n"):
        if line[:2] not in ("!!", "**") and not line.startswith(("!", "=")):
            found = _ABC_NUMBER.search(line)
            _refuse(found is not None and "**" not in line, found[0] if found else "", where)


def _check_abc(text: str, where: str) -> None:
    for line in text.split("\n"):
        if line.startswith("%"):
            continue
        metre = " ".join(_ABC_METRE.findall(line)) and line
        found = _DIGITS.search(metre) if metre else None
        if found is None and not _HEAD.match(line):
            found = _ABC_NUMBER.search(re.sub(r'"[^"]*"|\[[A-Za-z]:[^\]]*\]', "", line))
        _refuse(found is not None, found[0] if found else "", where)
