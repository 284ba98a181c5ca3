"""ABC taken apart into tunes and voices, each a text that music21 reads as one stave.

The clef is read here and taken out of the text, and so are voices (ABC standard 2.1, sections 4.6
and 7): music21 10.5 moves the notes of a bass clef by two octaves, and joins voices that are named
before the key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from landmarks.clefs import clef_of
from landmarks.score.abc_notes import plain_notes
from landmarks.score.notes import ScoreError
from landmarks.stave import Clef
from landmarks.translation import _

_COMMENT = re.compile(r"(?<!\\)%.*")
_QUOTED = re.compile(r'"[^"]*"')
_NOTE = re.compile(r"[A-Ga-gxz]")
_FIELD = re.compile(r"\s*([A-Za-z+]):")
_VOICE = re.compile(r"\[?V:\s*([^\s\]]+)([^\]]*)\]?")
_SIGNS = {
    "treble": ("G", 2), "bass": ("F", 4), "alto": ("C", 3), "tenor": ("C", 4),
    "soprano": ("C", 1), "mezzosoprano": ("C", 2), "baritone": ("F", 3),
}  # fmt: skip
"""What a clef's name marks where no line follows it: the standard's clefs, and three that abcm2ps
and abc2midi name besides (from memory)."""
_CLEF = re.compile(
    rf"""(?:\bclef\s*=\s*"?|(?<=\s))(?:({"|".join(_SIGNS)})([1-5]?)|([GFC])([1-5]))([-+]8)?"""
    r""""?(?=[\s\]]|$)"""
)
_OTHER_CLEF = re.compile(r"\bclef\s*=\s*(\S+)")
_NAME = re.compile(r'\b(?:name|nm)\s*=\s*"([^"]*)"')
_SHIFTED = re.compile(r"\b(?:middle|m|octave|transpose|t|score|sound)\s*=")
_KEPT_FIELDS = "XTMLK"


@dataclass(frozen=True)
class NamedClef:
    """A clef as ABC names it; `octaves` is how many octaves higher it sounds than written."""

    clef: Clef
    octaves: int


@dataclass(frozen=True)
class AbcVoice:
    """One voice: `text` is a tune of its own; `clef` is None where none is named."""

    name: str
    text: str
    clef: NamedClef | None


@dataclass(frozen=True)
class AbcTune:
    """One tune of a file."""

    title: str
    voices: tuple[AbcVoice, ...]


@dataclass
class _Voice:
    name: str = ""
    clefs: set[NamedClef] = field(default_factory=set)
    lines: list[str] = field(default_factory=list)


def note_count(text: str) -> int:
    """Count the letters that name notes, and rests, outside fields, quotations and comments."""
    music = (line for line in text.split("\n") if not re.match(r"[A-Za-z+]:", line))
    return sum(len(_NOTE.findall(_QUOTED.sub("", _COMMENT.sub("", line)))) for line in music)


def tunes(text: str, where: str) -> tuple[AbcTune, ...]:
    """Take a file apart. ScoreError where it asks for what cannot be read rightly."""
    lines = [_COMMENT.sub("", line).rstrip() for line in text.split("\n")]
    starts = [n for n, line in enumerate(lines) if line.startswith("X:")] or [0]
    ends = [*starts[1:], len(lines)]
    return tuple(_tune(lines[start:end], where) for start, end in zip(starts, ends, strict=True))


def _tune(lines: list[str], where: str) -> AbcTune:
    key = next((n for n, line in enumerate(lines) if line.startswith("K:")), None)
    if key is None:
        raise ScoreError(
            _("{where}: a tune has no key (K:), so it is cut short; save it again").format(
                where=where
            )
        )
    header = [line for line in lines[: key + 1] if line[:1] in _KEPT_FIELDS and line[1:2] == ":"]
    title = next((line[2:].strip() for line in header if line.startswith("T:")), "")
    default = _named_clef(header[-1], where)
    header[-1:] = [*_unit_length(header), _CLEF.sub("", header[-1])]
    voices: dict[str, _Voice] = {"": _Voice()}
    for line in lines[:key]:
        if line.startswith("V:"):
            _open_voice(voices, line, where)
    _share_out(lines[key + 1 :], voices, where)
    sung = [voice for voice in voices.values() if any(map(str.strip, voice.lines))] or [voices[""]]
    return AbcTune(
        title,
        tuple(
            AbcVoice(
                voice.name or _("voice {number}").format(number=number),
                "\n".join([*header, *plain_notes(voice.lines), ""]),
                _only_clef(voice, default, where),
            )
            for number, voice in enumerate(sung, 1)
        ),
    )


def _unit_length(header: list[str]) -> list[str]:
    """Return the field that says how long a note is where it is missing (section 3.1.7)."""
    if any(line.startswith("L:") for line in header):
        return []
    metre = next((line[2:].strip() for line in header if line.startswith("M:")), "")
    beats, _slash, unit = metre.partition("/")
    is_short = beats.isdecimal() and unit.isdecimal() and 4 * int(beats) < 3 * int(unit)
    return ["L:1/16" if is_short else "L:1/8"]


def _share_out(body: list[str], voices: dict[str, _Voice], where: str) -> None:
    """Return every line of music to the voice it belongs to."""
    current = voices[""]
    for line in body:
        for piece in _pieces(line):
            if piece.lstrip("[").startswith("V:"):
                current = _open_voice(voices, piece, where)
                continue
            if "&" in _QUOTED.sub("", piece):
                raise ScoreError(
                    _(
                        "{where}: this tune lays voices over each other (&); save it as MusicXML"
                    ).format(where=where)
                )
            named = _FIELD.match(piece)
            if named is None or named[1] in _KEPT_FIELDS:
                current.lines.append(_without_clefs(piece, current, where))


def _without_clefs(piece: str, voice: _Voice, where: str) -> str:
    if "K:" not in piece:
        return piece
    found = _named_clef(piece, where)
    voice.clefs |= {found} if found else set()
    return _CLEF.sub("", piece)


def _pieces(line: str) -> Iterator[str]:
    """Return a line in pieces, so that a change of voice is a piece of its own."""
    at = 0
    for change in re.finditer(r"\[V:[^\]]*\]", line):
        yield line[at : change.start()]
        yield change[0]
        at = change.end()
    yield line[at:]


def _open_voice(voices: dict[str, _Voice], line: str, where: str) -> _Voice:
    match = _VOICE.match(line)
    if match is None:
        raise ScoreError(
            _("{where}: a voice (V:) has no name; name it or save it as MusicXML").format(
                where=where
            )
        )
    name, rest = match.groups()
    voice = voices.setdefault(name, _Voice())
    named = _NAME.search(rest)
    voice.name = named[1] if named else voice.name
    clef = _named_clef(rest, where)
    voice.clefs |= {clef} if clef else set()
    return voice


def _named_clef(text: str, where: str) -> NamedClef | None:
    shifted = _SHIFTED.search(_QUOTED.sub("", text))
    if shifted:
        raise ScoreError(
            _(
                "{where}: this tune moves its notes with {shifted} and cannot be read rightly; "
                "save it as MusicXML"
            ).format(where=where, shifted=shifted[0])
        )
    match = _CLEF.search(_NAME.sub("", text))
    if match is None:
        other = _OTHER_CLEF.search(text)
        if other:
            raise ScoreError(
                _("{where}: {other} is no clef of a stave; save it as MusicXML").format(
                    where=where, other=other[1]
                )
            )
        return None
    name, line, sign, sign_line, octave = match.groups()
    sign, usual = _SIGNS[name] if name else (sign, int(sign_line))
    clef = clef_of(sign, int(line or usual))
    assert clef is not None
    return NamedClef(clef, {"+8": 1, "-8": -1}.get(octave, 0))


def _only_clef(voice: _Voice, default: NamedClef | None, where: str) -> NamedClef | None:
    if len(voice.clefs) > 1:
        raise ScoreError(
            _("{where}: a voice changes its clef; save it as MusicXML").format(where=where)
        )
    return next(iter(voice.clefs), default)
