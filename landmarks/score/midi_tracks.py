"""MIDI files checked for being whole, and tracks parted by channel (Standard MIDI Files 1.0)."""

from __future__ import annotations

import struct
from collections import Counter
from typing import Any

from landmarks.score.notes import ScoreError
from landmarks.translation import _

DRUMS = 10
"""The channel of drums, counted from 1 (General MIDI, level 1)."""
_CHUNK = struct.Struct(">4sI")
_HEADER = struct.Struct(">HHH")
_END_OF_TRACK = b"\xff\x2f\x00"


def check_whole(data: bytes, where: str) -> None:
    """Refuse a file whose header or tracks are cut short, or that is no single piece."""
    cut_short = ScoreError(
        _("{where}: this MIDI file is damaged or cut short; save it again").format(where=where)
    )
    if len(data) < _CHUNK.size + _HEADER.size:
        raise cut_short
    _chunk, length = _CHUNK.unpack_from(data)
    form, tracks, _division = _HEADER.unpack_from(data, _CHUNK.size)
    if form > 1:
        raise ScoreError(
            _("{where}: this MIDI file holds separate patterns; save one of them").format(
                where=where
            )
        )
    at, found = _CHUNK.size + length, 0
    while found < tracks:
        if at + _CHUNK.size > len(data):
            raise cut_short
        name, length = _CHUNK.unpack_from(data, at)
        at += _CHUNK.size + length
        if name == b"MTrk":
            found += 1
            if not data[:at].endswith(_END_OF_TRACK) or at > len(data):
                raise cut_short


def extent(data: bytes) -> tuple[int, float]:
    """Return how many notes a whole MIDI file holds, and how many quarter notes it lasts."""
    from music21.midi import MidiFile

    file = MidiFile()
    file.readstr(data)
    events = [track.events for track in file.tracks]
    ticks = [sum(event.time for event in track if event.isDeltaTime()) for track in events]
    notes = sum(event.isNoteOn() for track in events for event in track)
    return notes, max(ticks, default=0) / max(1, file.ticksPerQuarterNote)


def parted_by_channel(tracks: list[Any], left_out: Counter[str]) -> list[Any]:
    """Return music21's tracks anew, so that no two channels share one, without the drums."""
    parted = []
    for track in tracks:
        channels = sorted({event.channel for event in track.events if event.isNoteOn()})
        if DRUMS in channels:
            left_out["unpitched"] += sum(
                event.isNoteOn() for event in track.events if event.channel == DRUMS
            )
            channels.remove(DRUMS)
        parted += [_of_channel(track, channel) for channel in channels or [None]]
    return parted


def _of_channel(track: Any, channel: int | None) -> Any:
    """Copy a track with the notes of one channel; what belongs to no channel stays in all."""
    from music21.midi import DeltaTime, MidiTrack

    copy, ticks = MidiTrack(track.index), 0
    for event in track.events:
        if event.isDeltaTime():
            ticks += event.time
        elif event.channel in (None, channel):
            copy.events += [DeltaTime(copy, time=ticks), event]
            ticks = 0
    return copy
