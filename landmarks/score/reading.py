"""Reads a score file with music21 into the notes that a pupil must read."""

from __future__ import annotations

import contextlib
import io
import warnings
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate
from pathlib import Path
from typing import Any

from landmarks.clefs import clef_of
from landmarks.pitch import ALTERATION_SIGNS, LETTERS, Pitch
from landmarks.score.bounds import checked_file
from landmarks.score.notes import Hand, Score, ScoreError, ScoreNote, Stave
from landmarks.score.sources import Music, StaveMusic, music_in
from landmarks.stave import TREBLE, Clef, grand_stave_clef
from landmarks.translation import _, gettext_noop

UNPITCHED = gettext_noop("unpitched")
NO_CLEF = gettext_noop("under a clef that names no note")
BETWEEN = gettext_noop("between the keys")
BEYOND = gettext_noop("beyond every keyboard")
_CONTINUES = ("stop", "continue")
_HIGHEST_KEY = 127
"""MIDI 1.0 numbers keys from 0 to 127."""


def read_scores(path: str | Path) -> tuple[Score, ...]:
    """Return every piece in a file, its notes in the order of time.

    Raises:
        ScoreError: it cannot be read rightly; one sentence says what, where and what to do.
    """
    path = Path(path)
    try:
        with quietly():
            scores = [_score(music) for music in music_in(checked_file(path))]
    except (ScoreError, MemoryError):
        raise
    except Exception as error:
        # music21 meets a damaged file with whatever error comes up inside it.
        raise ScoreError(
            _(
                "{path}: this score is damaged or not as its standard asks ({kind}); save it again"
            ).format(path=path, kind=type(error).__name__)
        ) from error
    if not any(score.notes for score in scores):
        raise ScoreError(
            _("{path}: this score holds no notes to be read; choose another").format(path=path)
        )
    return tuple(replace(score, title=score.title or path.stem) for score in scores)


@contextlib.contextmanager
def quietly() -> Iterator[None]:
    """Keep to ourselves what music21 has to say about a file while it reads."""
    with warnings.catch_warnings(), contextlib.redirect_stderr(io.StringIO()):
        warnings.simplefilter("ignore")
        yield


@dataclass(frozen=True)
class _ClefInForce:
    """A clef, None if it names no note, the octaves it moves the sound by, and if it is told."""

    clef: Clef | None
    octaves: int
    is_told: bool = True


class _Changes:
    """What is in force on a stave (a clef, a key signature), which changes in time."""

    def __init__(self, first: Any) -> None:
        self._times, self._values = [(-1, Fraction(0))], [first]

    def add(self, bar: int, offset: Fraction, value: Any) -> None:
        """Let a value hold from here; changes come in the order of time."""
        self._times.append((bar, offset))
        self._values.append(value)

    def at(self, bar: int, offset: Fraction) -> Any:
        """Return what holds for a note that stands here."""
        return self._values[bisect_right(self._times, (bar, offset)) - 1]


@dataclass(frozen=True)
class _Place:
    """Where an element stands: its bar's index and label, its offset there, its onset."""

    bar: int
    label: str
    offset: Fraction
    onset: Fraction


def _score(music: Music) -> Score:
    read: list[tuple[ScoreNote, bool]] = []
    starts = _bar_starts(music)
    for number, source in enumerate(music.staves, 1):
        read += _StaveReader(music, source, number).heads(starts)
    read.sort(key=lambda head: _order(head[0]))
    return Score(
        title=music.title,
        staves=tuple(sorted({note.stave for note, _held in read})),
        notes=tuple(note for note, is_held in read if not is_held),
        held=tuple(note for note, is_held in read if is_held),
        left_out=dict(music.left_out),
        assumed=tuple(music.assumed),
    )


def _order(note: ScoreNote) -> tuple[Any, ...]:
    # Grace notes of one moment stay in the order in which they were found.
    height = 0 if note.is_grace else note.written.diatonic
    return note.onset, not note.is_grace, note.stave.number, height


def _bar_starts(music: Music) -> list[Fraction]:
    """Return where each bar begins, in quarter notes; a bar is as long as its longest stave."""
    lengths = [Fraction(0)] * max((len(stave.bars) for stave in music.staves), default=0)
    for stave in music.staves:
        for number, bar in enumerate(stave.bars):
            lengths[number] = max(lengths[number], Fraction(bar.highestTime))
    return list(accumulate(lengths, initial=Fraction(0)))


class _StaveReader:
    """Reads one stave, or the two that lie together in a grand stave."""

    def __init__(self, music: Music, source: StaveMusic, number: int) -> None:
        self._music = music
        self._source = source
        self._stave = Stave(number, source.part, source.hand)
        first = _ClefInForce(source.clef, source.clef_octaves, source.clef_is_told)
        self._clefs, self._signatures = _Changes(first), _Changes(None)
        self._misses_clef = False

    def heads(self, starts: list[Fraction]) -> list[tuple[ScoreNote, bool]]:
        """Return every note head, and whether it only continues a tie."""
        found: list[tuple[ScoreNote, bool]] = []
        for index, bar in enumerate(self._source.bars):
            label = self._music.labels[index]
            elements = _elements(bar)
            self._note_changes(index, elements)
            for offset, element in elements:
                if "NotRest" in element.classSet and "Harmony" not in element.classSet:
                    place = _Place(index, label, offset, starts[index] + offset)
                    found += self._heads_of(element, place)
        if self._misses_clef:
            self._music.assumed.append(
                _("no clef stands on stave {number}: the {clef} clef is taken").format(
                    number=self._stave.number, clef=_(self._source.clef.name)
                )
            )
        return found

    def _note_changes(self, bar: int, elements: list[tuple[Fraction, Any]]) -> None:
        for offset, element in elements:
            if "Clef" in element.classSet and not self._music.is_midi:
                clef = clef_of(element.sign, element.line)
                self._clefs.add(bar, offset, _ClefInForce(clef, element.octaveChange))
            elif "KeySignature" in element.classSet:
                self._signatures.add(bar, offset, element)

    def _heads_of(self, element: Any, place: _Place) -> Iterator[tuple[ScoreNote, bool]]:
        clef: _ClefInForce = self._clefs.at(place.bar, place.offset)
        octaves = clef.octaves + self._music.octave_lines.get(id(element), 0)
        for head in getattr(element, "notes", None) or [element]:
            reason = _why_left_out(head, clef)
            if reason is not None:
                self._music.left_out[reason] += 1
                continue
            assert clef.clef is not None
            self._misses_clef |= not clef.is_told
            signature = self._signatures.at(place.bar, place.offset)
            sounding = self._spelled(head.pitch, signature)
            moved = 0 if self._source.is_written else 7 * octaves
            written = Pitch(sounding.diatonic - moved, sounding.alteration)
            if not 0 <= written.midi + 12 * octaves <= _HIGHEST_KEY:
                self._music.left_out[BEYOND] += 1
                continue
            stave, own_clef = self._stave, clef.clef
            if self._source.is_grand:
                stave, own_clef = _grand_stave(written, self._source.part)
            note = ScoreNote(
                bar=place.label,
                offset=place.offset,
                onset=place.onset,
                length=Fraction(element.quarterLength),
                stave=stave,
                clef=own_clef,
                written=written,
                octaves=octaves,
                value=element.duration.type,
                dots=element.duration.dots,
                is_grace=bool(element.duration.isGrace),
                in_signature=_altered(signature, written) == written.alteration,
            )
            yield note, head.tie is not None and head.tie.type in _CONTINUES

    def _spelled(self, pitch: Any, signature: Any) -> Pitch:
        """Return music21's pitch as ours; MIDI's black keys as the signature says."""
        if self._music.is_midi:
            return Pitch.of_key(pitch.midi, flats=signature is not None and signature.sharps < 0)
        return Pitch(pitch.octave * 7 + LETTERS.index(pitch.step), int(pitch.alter))


def _elements(bar: Any) -> list[tuple[Fraction, Any]]:
    """Return what stands in a bar and in its voices, in order of time."""
    found = [(Fraction(bar.elementOffset(element)), element) for element in bar]
    for voice in [element for _offset, element in found if "Voice" in element.classSet]:
        found += [(Fraction(voice.elementOffset(element)), element) for element in voice]
    return sorted(found, key=lambda entry: entry[0])


def _why_left_out(head: Any, clef: _ClefInForce) -> str | None:
    if not hasattr(head, "pitch"):
        return UNPITCHED
    if clef.clef is None:
        return NO_CLEF
    return None if head.pitch.alter in ALTERATION_SIGNS else BETWEEN


def _grand_stave(pitch: Pitch, part: str) -> tuple[Stave, Clef]:
    clef = grand_stave_clef(pitch)
    if clef == TREBLE:
        return Stave(1, part, Hand.RIGHT), clef
    return Stave(2, part, Hand.LEFT), clef


def _altered(signature: Any, pitch: Pitch) -> int:
    """Return what a key signature does to a line or space, in semitones."""
    accidental = signature.accidentalByStep(pitch.letter) if signature else None
    return int(accidental.alter) if accidental else 0
