"""Excerpts of a score: its bars, a few at a time, as lines of music.

music21 reads the file and cuts it; what is no note (words, signs of expression, slurs) is left
out, so that the eye meets nothing but what is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.etree.ElementTree import Element, tostring

from landmarks.line import Line, line_of
from landmarks.score import ScoreError
from landmarks.score.bounds import checked_file
from landmarks.score.files import Form, ScoreFile
from landmarks.score.reading import quietly
from landmarks.translation import LazyMessage, _, lazy

if TYPE_CHECKING:
    from music21.stream import Score

MOST_BARS = 4
MOST_MOMENTS = 20
"""At so many moments, one after the other, notes begin in a line at most (but for a single bar):
more would be too small on a card. Common practice, no source."""
_DROPPED = (
    "Spanner", "Dynamic", "TextExpression", "TempoIndication", "Harmony", "RehearsalMark",
    "RepeatExpression", "Instrument", "PageLayout", "SystemLayout", "StaffLayout", "TextBox",
)  # fmt: skip


_FORMATS = {
    Form.MUSICXML: "musicxml", Form.MIDI: "midi", Form.ABC: "abc", Form.HUMDRUM: "humdrum",
}  # fmt: skip


def score_lines(path: str | Path, first_bar: int = 1, tune: int = 1) -> Iterator[Line]:
    """Return the lines of a tune from a bar on, in order; bars count from 1 as they stand.

    A line has up to `MOST_BARS` bars. Of a score with a keyboard part that part is taken, of any
    other the uppermost one (or two, if there are no more). ScoreError if the file is no score, or
    has no such bar.
    """
    path = Path(path)
    score = _read(path, tune)
    parts = _keyboard_parts(score)
    moments = _moments(parts)
    count = len(moments)
    if count == 0:
        raise ScoreError(
            _("{path}: this score has no bars with notes; choose another one").format(path=path)
        )
    if not 1 <= first_bar <= count:
        raise ScoreError(
            _("{path}: bar {first_bar} is not in this score; it has bars 1 to {count}").format(
                path=path, first_bar=first_bar, count=count
            )
        )
    title = (score.metadata and score.metadata.bestTitle) or path.stem
    return _lines(path.name, title, parts, moments, first_bar)


def _lines(
    name: str, title: str, parts: Sequence[Any], moments: Sequence[int], first_bar: int
) -> Iterator[Line]:
    printed = _printed_numbers(parts)
    start = first_bar
    while start <= len(moments):
        end = start
        while (
            end < len(moments)
            and end - start + 1 < MOST_BARS
            and sum(moments[start - 1 : end + 1]) <= MOST_MOMENTS
        ):
            end += 1
        which = f"bar {start}" if start == end else f"bars {start} to {end}"
        told = _told_bars(title, printed[start - 1], printed[end - 1])
        try:
            line = line_of(_musicxml(parts, start, end), f"{name}, {which}", told)
        except MemoryError:
            raise
        except Exception as error:
            # music21 cannot write everything that it reads, and says so in as many ways.
            raise ScoreError(
                _(
                    "{bars}: these bars cannot be drawn ({kind}); begin at another bar, or save "
                    "the score again as MusicXML"
                ).format(bars=told, kind=type(error).__name__)
            ) from error
        yield line
        start = end + 1


def _printed_numbers(parts: Sequence[Any]) -> list[str]:
    """Return the number of each bar as the score has it: an upbeat is 0, an ending may be "8b"."""
    bars = zip_longest(*(part.getElementsByClass("Measure") for part in parts))
    return [next(bar.measureNumberWithSuffix() for bar in both if bar is not None) for both in bars]


def _told_bars(title: str, first: str, last: str) -> LazyMessage:
    if first == last:
        return lazy("{title}, bar {bar}", title=title, bar=first)
    return lazy("{title}, bars {first} to {last}", title=title, first=first, last=last)


def _moments(parts: Sequence[Any]) -> list[int]:
    """Count, bar by bar, the moments at which notes begin in any of the parts."""
    bars = zip_longest(*(part.getElementsByClass("Measure") for part in parts))
    return [
        len({n.getOffsetInHierarchy(bar) for bar in both if bar is not None
             for n in bar.recurse().notes})
        for both in bars
    ]  # fmt: skip


def _read(path: Path, tune: int) -> Score:
    from music21 import converter, stream

    file = checked_file(path)
    try:
        with quietly():
            found = converter.parseData(_data(file), format=_FORMATS[file.form])
    except MemoryError:
        raise
    except Exception:
        # A reader of eight formats fails in as many ways on what is none of them.
        raise ScoreError(
            _(
                "{path}: not readable as a score; choose a MusicXML, MIDI, ABC or Humdrum file"
            ).format(path=path)
        ) from None
    if isinstance(found, stream.Opus):
        found = next(islice(found.scores, tune - 1, None), stream.Score())
    if isinstance(found, stream.Part):
        score = stream.Score()
        score.insert(0, found)
        return score
    return found if isinstance(found, stream.Score) else stream.Score()


def _data(file: ScoreFile) -> str | bytes:
    """Return a file's content as music21 takes it from memory, so that it opens no file itself."""
    content = file.content
    if isinstance(content, Element):
        return tostring(content, encoding="unicode")
    return content


def _keyboard_parts(score: Score) -> list[Any]:
    """Return the staves to read: two of a keyboard part, or those there are."""
    from music21 import stream

    keyboard = list(score.getElementsByClass(stream.PartStaff))[:2]
    if keyboard:
        return keyboard
    parts = [part for part in score.parts if part.recurse().notes]
    return parts if len(parts) <= 2 else parts[:1]


def _musicxml(parts: Sequence[Any], start: int, end: int) -> str:
    from music21 import layout, musicxml, stream

    score = stream.Score()
    cut = [part.measures(start - 1, end, indicesNotNumbers=True) for part in parts]
    for part in cut:
        _cleaned(part)
        score.insert(0, part)
    if len(cut) == 2:
        score.insert(0, layout.StaffGroup(cut, symbol="brace", barTogether=True))
    exporter = musicxml.m21ToXml.GeneralObjectExporter(score)
    return str(exporter.parse().decode("utf-8"))


def _cleaned(part: Any) -> None:
    part.partName = part.partAbbreviation = None
    for element in list(part.recurse(includeSelf=False)):
        if element.classSet.intersection(_DROPPED) and element.activeSite is not None:
            element.activeSite.remove(element)
        elif hasattr(element, "lyrics"):
            element.lyrics, element.expressions, element.articulations = [], [], []
