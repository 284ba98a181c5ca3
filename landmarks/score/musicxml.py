"""MusicXML made plain before it is read: only what stands on a stave to be read is kept.

A score that goes through this keeps the notes, clefs and key signatures of MusicXML 4.0, whatever
else in it is damaged, and is read several times as fast.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element, SubElement

from landmarks.translation import _, gettext_noop

_NOTE_PARTS = ("grace", "chord", "pitch", "duration", "voice", "type", "dot", "staff")
_OCTAVE_LINES = ("8", "15")
_ALTERATIONS = (-2, -1, 0, 1, 2)


@dataclass(frozen=True)
class PlainScore:
    """A plain copy of a score: `root` has a part of bars for every part, the bars numbered from 1.

    `bars` are the bars' numbers as printed, `parts` the names of the parts in their order,
    `transposing` those of them that sound at another pitch; `left_out` counts by reason.
    """

    root: Element
    title: str
    parts: tuple[str, ...]
    bars: tuple[str, ...]
    transposing: tuple[str, ...]
    left_out: Counter[str]


def plain(root: Element) -> PlainScore:
    """Copy what is to be read of a partwise or timewise score."""
    names = {part.get("id"): part.findtext("part-name") or "" for part in root.iter("score-part")}
    copy = Element("score-partwise", version="4.0")
    part_list = SubElement(copy, "part-list")
    left_out: Counter[str] = Counter()
    parts, transposing = [], []
    bars: tuple[str, ...] = ()
    for number, (part_id, measures) in enumerate(_parts(root), 1):
        name = " ".join(names.get(part_id, "").split()) or _("part {number}").format(number=number)
        entry = SubElement(part_list, "score-part", id=f"P{number}")
        SubElement(entry, "part-name").text = f"P{number}"
        copy.append(_plain_part(f"P{number}", measures, left_out))
        parts.append(name)
        if any(measure.find("attributes/transpose") is not None for measure in measures):
            transposing.append(name)
        labels = tuple(measure.get("number") or str(n) for n, measure in enumerate(measures, 1))
        bars = max(bars, labels, key=len)
    return PlainScore(copy, _title(root), tuple(parts), bars, tuple(transposing), left_out)


def note_count(root: Element) -> int:
    """Count the notes and rests in a score."""
    return sum(1 for _note in root.iter("note"))


def _parts(root: Element) -> Iterator[tuple[str | None, list[Element]]]:
    """Return every part's id and its measures, in whichever way they are nested."""
    if root.tag == "score-partwise":
        for part in root.findall("part"):
            yield part.get("id"), part.findall("measure")
        return
    found: dict[str | None, list[Element]] = {}
    for measure in root.findall("measure"):
        for part in measure.findall("part"):
            part.set("number", measure.get("number") or "")
            found.setdefault(part.get("id"), []).append(part)
    yield from found.items()


def _title(root: Element) -> str:
    title = root.findtext("movement-title") or root.findtext("work/work-title") or ""
    return " ".join(title.split())


def _plain_part(part_id: str, measures: list[Element], left_out: Counter[str]) -> Element:
    part = Element("part", id=part_id)
    staves = max((int(text) for measure in measures for text in _stave_numbers(measure)), default=1)
    for number, measure in enumerate(measures, 1):
        bar = SubElement(part, "measure", number=str(number))
        for group in _groups(measure):
            bar.extend(_plain_group(group, left_out))
        first = bar.find("attributes")
        if first is None:
            first = Element("attributes")
            bar.insert(0, first)
        SubElement(first, "staves").text = str(staves)
    return part


def _stave_numbers(measure: Element) -> Iterator[str]:
    for place in ("attributes/staves", "note/staff"):
        for element in measure.iterfind(place):
            text = (element.text or "").strip()
            if text.isdecimal():
                yield text


def _groups(measure: Element) -> Iterator[list[Element]]:
    """Return what moves time or is read in a bar; the notes of one chord come together."""
    chord: list[Element] = []
    between: list[Element] = []
    for element in [*measure, Element("end")]:
        if element.tag == "note" and element.find("chord") is not None:
            chord.append(element)
        elif element.tag in ("note", "backup", "forward", "end"):
            yield from ([chord] if chord else [])
            yield from ([other] for other in between)
            chord, between = [element], []
        elif element.tag in ("attributes", "direction"):
            between.append(element)


def _plain_group(group: list[Element], left_out: Counter[str]) -> list[Element]:
    first = group[0]
    match first.tag:
        case "note":
            return _plain_chord(group, left_out)
        case "attributes":
            return [_plain_attributes(first)]
        case "direction":
            is_line = first.find("direction-type/octave-shift") is not None
            return [_octave_line(first)] if is_line else []
    return [first]


def _plain_chord(notes: list[Element], left_out: Counter[str]) -> list[Element]:
    """Copy the notes of a chord, or one alone; those on another stave become a chord there."""
    read: dict[str, list[Element]] = {}
    for note in notes:
        reason = _why_left_out(note)
        if reason is not None:
            left_out[reason] += 1
        else:
            read.setdefault(note.findtext("staff", "1").strip(), []).append(_plain_note(note))
    first = notes[0]
    length = first.find("duration")
    if length is None:
        return [note for chord in read.values() for note in _chorded(chord)]
    if not read:
        return [_moved("forward", length, first.find("voice"))]
    chords = iter(read.values())
    copied = _chorded(next(chords))
    for chord in chords:
        copied += [_moved("backup", length, None), *_chorded(chord)]
    return copied


def _chorded(notes: list[Element]) -> list[Element]:
    for number, note in enumerate(notes):
        mark = note.find("chord")
        if mark is not None and not number:
            note.remove(mark)
        if mark is None and number:
            note.insert(0, Element("chord"))
    return notes


def _moved(tag: str, length: Element, voice: Element | None) -> Element:
    element = Element(tag)
    element.extend(child for child in (length, voice) if child is not None)
    return element


def _why_left_out(note: Element) -> str | None:
    if note.find("unpitched") is not None:
        return "unpitched"
    if note.find("pitch") is None:
        return None
    if note.find("cue") is not None:
        return gettext_noop("cue notes")
    if note.get("print-object") == "no":
        return gettext_noop("not printed")
    alteration = float(note.findtext("pitch/alter") or 0)
    return None if alteration in _ALTERATIONS else "between the keys"


def _plain_note(note: Element) -> Element:
    copy = Element("note")
    copy.extend(child for child in note if child.tag in _NOTE_PARTS)
    if note.find("pitch") is None:
        copy.insert(0, Element("rest"))
    elif not (note.findtext("pitch/step") and note.findtext("pitch/octave")):
        # music21 would take it for middle C, or in its octave.
        raise ValueError("a pitch has no step or no octave")
    if note.find("staff") is None:
        # music21 would put it on every stave.
        SubElement(copy, "staff").text = "1"
    for kind in sorted(_tie_ends(note), reverse=True):
        SubElement(copy, "tie", type=kind)
    return copy


def _tie_ends(note: Element) -> set[str]:
    """Return "start" and "stop" as ties are played, or as drawn where only curves are given."""
    played = note.findall("tie")
    drawn = note.iterfind("notations/tied")
    return {str(tie.get("type")) for tie in played or drawn} & {"start", "stop"}


def _plain_attributes(attributes: Element) -> Element:
    copy = Element("attributes")
    copy.extend(attributes.findall("divisions"))
    for key in attributes.findall("key"):
        copy.append(_with_children(key, ("fifths", "key-step", "key-alter")))
    for clef in attributes.findall("clef"):
        copy.append(_with_children(clef, ("sign", "line", "clef-octave-change")))
    return copy


def _octave_line(direction: Element) -> Element:
    copy = Element("direction")
    kinds = SubElement(copy, "direction-type")
    for line in direction.iterfind("direction-type/octave-shift"):
        if line.get("size", "8") in _OCTAVE_LINES:
            kinds.append(line)
    copy.extend(direction.findall("staff"))
    return copy


def _with_children(element: Element, tags: Iterable[str]) -> Element:
    copy = Element(element.tag, element.attrib)
    copy.extend(child for child in element if child.tag in tags)
    return copy
