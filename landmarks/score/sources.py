"""Score files as music21 reads them: for each piece its staves from the top, bar by bar."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from statistics import fmean
from typing import Any
from xml.etree.ElementTree import Element

from landmarks.pitch import Pitch
from landmarks.score import abc_tunes, midi_tracks, musicxml
from landmarks.score.files import Form, ScoreFile
from landmarks.score.notes import Hand
from landmarks.stave import BASS, TREBLE, Clef, grand_stave_clef
from landmarks.translation import _, gettext_noop

_OCTAVES = {"8va": 1, "8vb": -1, "15ma": 2, "15mb": -2}
_MIDI_TELLS = gettext_noop(
    "MIDI tells no clefs and no spelling: black keys are read as sharps, or as flats where the "
    "key signature has flats"
)


@dataclass
class StaveMusic:
    """One stave: its part, its bars as music21 streams, and what to take until a clef is met.

    `clef_octaves` belongs to `clef`, which the file may not tell (`clef_is_told`); `is_written`
    says that the pitches are as written under an octave clef, not as they sound; `is_grand` that
    the notes of two staves lie together, to be parted at middle C.
    """

    part: str
    part_number: int
    bars: list[Any]
    clef: Clef = TREBLE
    clef_octaves: int = 0
    clef_is_told: bool = False
    hand: Hand | None = None
    is_written: bool = False
    is_grand: bool = False


@dataclass
class Music:
    """One piece. `labels` are the numbers of its bars as printed.

    `octave_lines` gives the octaves of the line over an element, by its `id()`.
    """

    title: str
    staves: list[StaveMusic]
    labels: tuple[str, ...]
    left_out: Counter[str] = field(default_factory=Counter)
    assumed: list[str] = field(default_factory=list)
    octave_lines: dict[int, int] = field(default_factory=dict)
    is_midi: bool = False


def music_in(file: ScoreFile) -> Iterator[Music]:
    """Yield every piece of a checked file. ScoreError, or any error of music21, if damaged."""
    match file.form, file.content:
        case Form.MUSICXML, Element() as root:
            found = [_of_musicxml(root)]
        case Form.MIDI, bytes(data):
            found = [_of_midi(data)]
        case Form.HUMDRUM, str(text):
            found = _of_humdrum(text)
        case _:
            found = _of_abc(str(file.content), file.name)
    for music in found:
        if not music.is_midi:
            _give_hands(music)
        yield music


def _of_musicxml(root: Element) -> Music:
    from music21.musicxml.xmlToM21 import MusicXMLImporter
    from music21.spanner import Ottava

    score = musicxml.plain(root)
    importer = MusicXMLImporter()
    importer.xmlRootToScore(score.root, importer.stream)
    stream = importer.stream
    staves: list[StaveMusic] = []
    parts = zip(_parts_with_staves(stream), score.parts, strict=True)
    for part_number, (part, name) in enumerate(parts):
        for number, stave in enumerate(part):
            clef = BASS if 0 < number == len(part) - 1 else TREBLE
            staves.append(StaveMusic(name, part_number, _bars(stave), clef))
    lines = {
        id(element): _OCTAVES[line.type]
        for line in stream.recurse().getElementsByClass(Ottava)
        for element in line.getSpannedElements()
    }
    told = [
        _("{part} is a transposing part: its notes are read as they are written").format(part=name)
        for name in score.transposing
    ]
    return Music(score.title, staves, score.bars, score.left_out, told, lines)


def _parts_with_staves(stream: Any) -> list[list[Any]]:
    """Return music21's streams of every part, one a stave; they are named P1, or P1-Staff1."""
    parts: dict[str, list[Any]] = {}
    for stave in stream.parts:
        parts.setdefault(str(stave.id).partition("-Staff")[0], []).append(stave)
    return list(parts.values())


def _of_midi(data: bytes) -> Music:
    from music21.midi import MidiFile
    from music21.midi.translate import midiFileToStream

    file = MidiFile()
    file.readstr(data)
    left_out: Counter[str] = Counter()
    file.tracks = midi_tracks.parted_by_channel(file.tracks, left_out)
    stream = midiFileToStream(file, quantizePost=False)
    staves = [
        StaveMusic(part.partName or _("track {number}").format(number=number), number, _bars(part))
        for number, part in enumerate(stream.parts, 1)
        if part.pitches
    ]
    told = _give_midi_hands(staves)
    return Music(
        "", staves, _printed_labels(staves), left_out, [_(_MIDI_TELLS), told], is_midi=True
    )


def _give_midi_hands(staves: list[StaveMusic]) -> str:
    """Return hands and clefs to the staves of a MIDI file; say how."""
    for stave in staves:
        stave.clef_is_told = True
    if len(staves) == 1:
        staves[0].is_grand = True
        return _(
            "all its notes come together: from middle C upwards they are taken for the right hand"
        )
    staves.sort(key=_height, reverse=True)
    for stave in staves:
        stave.clef = grand_stave_clef(Pitch.of_key(round(_height(stave))))
    if len(staves) != 2:
        return _("there are not two tracks of notes, so no hands are told")
    for stave, hand, clef in zip(staves, Hand, (TREBLE, BASS), strict=True):
        stave.hand, stave.clef = hand, clef
    return _("of its two tracks the higher one is taken for the right hand in the treble clef")


def _of_humdrum(text: str) -> list[Music]:
    from music21.humdrum.spineParser import HumdrumDataCollection

    stream = HumdrumDataCollection(text.split("\n")).parse()
    return [_of_stream(score) for score in getattr(stream, "scores", None) or [stream]]


def _of_stream(score: Any) -> Music:
    staves = [
        StaveMusic(part.partName or _("stave {number}").format(number=number), number, _bars(part))
        for number, part in enumerate(score.parts, 1)
    ]
    title = score.metadata.bestTitle if score.metadata else None
    return Music(title or "", staves, _printed_labels(staves))


def _of_abc(text: str, where: str) -> list[Music]:
    return [_of_tune(tune) for tune in abc_tunes.tunes(text, where)]


def _of_tune(tune: abc_tunes.AbcTune) -> Music:
    from music21.abcFormat import ABCFile
    from music21.abcFormat.translate import abcToStreamScore

    staves = []
    for number, voice in enumerate(tune.voices):
        part = abcToStreamScore(ABCFile().readstr(voice.text)).parts[0]
        clef = voice.clef or abc_tunes.NamedClef(TREBLE, 0)
        part.removeByClass("Clef")  # music21 chooses one by the height of the notes.
        bars = _bars(part)
        for bar in bars:
            bar.removeByClass("Clef")
        stave = StaveMusic(voice.name, number, bars, clef.clef, clef.octaves)
        stave.clef_is_told, stave.is_written = voice.clef is not None, True
        staves.append(stave)
    return Music(tune.title, staves, _counted_labels(staves))


def _printed_labels(staves: list[StaveMusic]) -> tuple[str, ...]:
    bars = max((stave.bars for stave in staves), key=len, default=[])
    return tuple(str(bar.measureNumberWithSuffix()) for bar in bars)


def _counted_labels(staves: list[StaveMusic]) -> tuple[str, ...]:
    """Count bars that have no numbers, from 0 where the first is shorter than the second."""
    bars = max((stave.bars for stave in staves), key=len)
    begins_short = len(bars) > 1 and bars[0].highestTime < bars[1].highestTime
    return tuple(str(number + (not begins_short)) for number in range(len(bars)))


def _give_hands(music: Music) -> None:
    """Tell which hand plays from which stave, and what of it is assumed.

    The staves of a piano stand together in one part, the right hand's above (common practice).
    """
    staves = music.staves
    sizes = Counter(stave.part_number for stave in staves)
    pianos = [number for number, size in sizes.items() if size > 1]
    if len(pianos) == 1:
        own = [stave for stave in staves if stave.part_number == pianos[0]]
        own[0].hand, own[-1].hand = Hand.RIGHT, Hand.LEFT
    elif not pianos and len(staves) == 2:
        for stave, hand in zip(sorted(staves, key=_height, reverse=True), Hand, strict=True):
            stave.hand = hand
        music.assumed.append(_("of its two staves the higher one is taken for the right hand"))
    elif len(staves) == 1:
        staves[0].hand = Hand.LEFT if _begins_in_bass(staves[0]) else Hand.RIGHT
        music.assumed.append(_("of its one stave the hand is taken from the clef"))
    else:
        music.assumed.append(_("it does not tell which stave is whose hand's"))


def _begins_in_bass(stave: StaveMusic) -> bool:
    for bar in stave.bars:
        for clef in bar.getElementsByClass("Clef"):
            return bool(clef.sign == "F")
    return stave.clef == BASS


def _height(stave: StaveMusic) -> float:
    """Return the mean key number of a stave's notes."""
    keys = _keys(stave.bars)
    return fmean(keys) if keys else 0.0


def _keys(bars: list[Any]) -> list[int]:
    return [pitch.midi for bar in bars for pitch in bar.pitches]


def _bars(part: Any) -> list[Any]:
    """Return the bars of a part; a part without bar lines is one bar."""
    return list(part.getElementsByClass("Measure")) or [part]
