"""The records of a session file that tell of what came of a session."""

from __future__ import annotations

from functools import singledispatch

from drills.sessions.device_records import KeyMovedRecord, MachineNoticedRecord, PianoChangedRecord
from drills.sessions.effects import (
    Answered,
    CardAsked,
    Effect,
    Ended,
    KeyMoved,
    LineShown,
    MachineNoticed,
    PianoChanged,
    RungReached,
)
from drills.sessions.events import KeyPressed
from drills.sessions.line_records import (
    LineAnsweredRecord,
    LineFinishedRecord,
    LineShownRecord,
    NoteReadRecord,
    ValueAnsweredRecord,
    ValueAskedRecord,
    WrongKeyInLineRecord,
)
from drills.sessions.listening.effects import ItemBegun, ItemHeard, ToneSounded
from drills.sessions.listening_records import (
    ItemBegunRecord,
    ItemHeardRecord,
    ToneSoundedRecord,
)
from drills.sessions.reading.effects import (
    LineAnswered,
    LineFinished,
    NoteRead,
    WrongKeyInLine,
)
from drills.sessions.records import (
    AnsweredRecord,
    CardAskedRecord,
    EndedRecord,
    Record,
    RungReachedRecord,
)
from drills.sessions.spotting.effects import ValueAnswered, ValueAsked


@singledispatch
def record_of(effect: Effect) -> Record | None:
    """Return the record that tells of an effect; None for one that is not kept in the file."""
    return None


@record_of.register
def _(effect: CardAsked) -> Record:
    card = effect.card
    return CardAskedRecord(
        t=_milliseconds(effect.t), id=card.id, kind=card.kind, clef=card.clef.name,
        target=card.key, name=effect.name, move=effect.move,
    )  # fmt: skip


@record_of.register
def _(effect: KeyMoved) -> Record:
    moved = effect.event
    return KeyMovedRecord(
        t=_milliseconds(effect.t), key=moved.key, velocity=moved.velocity, channel=moved.channel,
        on=isinstance(moved, KeyPressed),
    )  # fmt: skip


@record_of.register
def _(effect: Answered) -> Record:
    return AnsweredRecord(
        t=_milliseconds(effect.t), id=effect.card.id, verdict=effect.verdict,
        played=effect.played, ms=_milliseconds(effect.ms), attempt=effect.attempt,
        hints=effect.hints, counted=effect.counted, why_not=effect.why_not, move=effect.move,
        note=effect.note,
    )  # fmt: skip


@record_of.register
def _(effect: RungReached) -> Record:
    reached = effect.reached
    return RungReachedRecord(
        t=_milliseconds(effect.t), rung=reached.rung, before=reached.before, by=reached.by,
        why=reached.why,
    )  # fmt: skip


@record_of.register
def _(effect: LineShown) -> Record:
    line = effect.line
    spots = tuple(note.spot for note in line.notes)
    return LineShownRecord(
        t=_milliseconds(effect.t), source=line.source, notes=spots, hands=effect.hands
    )


@record_of.register
def _(effect: ValueAsked) -> Record:
    question = effect.question
    return ValueAskedRecord(
        t=_milliseconds(effect.t), value=str(question.value), name=question.recorded_name
    )


@record_of.register
def _(effect: ValueAnswered) -> Record:
    value = effect.note.value
    return ValueAnsweredRecord(
        t=_milliseconds(effect.t), value=str(effect.question.value), note=effect.number,
        touched="other" if value is None else str(value), right=effect.right,
        ms=_milliseconds(effect.ms), attempt=effect.attempt,
    )  # fmt: skip


@record_of.register
def _(effect: NoteRead) -> Record:
    return NoteReadRecord(
        t=_milliseconds(effect.t), note=effect.number, played=effect.played, way=effect.way
    )


@record_of.register
def _(effect: WrongKeyInLine) -> Record:
    return WrongKeyInLineRecord(
        t=_milliseconds(effect.t), note=effect.number, verdict=effect.verdict,
        played=effect.played, steps=effect.steps,
    )  # fmt: skip


@record_of.register
def _(effect: LineAnswered) -> Record:
    late = effect.hesitation
    return LineAnsweredRecord(
        t=_milliseconds(effect.t), note=effect.number, id=effect.card.id, verdict=effect.verdict,
        played=effect.played, ms=None if late is None else _milliseconds(late.ms),
        low=None if late is None else _milliseconds(late.low),
        high=None if late is None else _milliseconds(late.high),
    )  # fmt: skip


@record_of.register
def _(effect: LineFinished) -> Record:
    return LineFinishedRecord(t=_milliseconds(effect.t), why=effect.why)


@record_of.register
def _(effect: ItemBegun) -> Record:
    return ItemBegunRecord(t=_milliseconds(effect.t), item=effect.item, attempt=effect.attempt)


@record_of.register
def _(effect: ToneSounded) -> Record:
    return ToneSoundedRecord(t=_milliseconds(effect.t), key=effect.key)


@record_of.register
def _(effect: ItemHeard) -> Record:
    finding = effect.finding
    return ItemHeardRecord(
        t=_milliseconds(effect.t), item=finding.item, band=finding.band, figures=finding.figures
    )


@record_of.register
def _(effect: PianoChanged) -> Record:
    piano = effect.piano
    return PianoChangedRecord(
        t=_milliseconds(effect.t), change=effect.change, port=piano.port, clock=piano.clock,
        shift=piano.shift,
    )  # fmt: skip


@record_of.register
def _(effect: MachineNoticed) -> Record:
    return MachineNoticedRecord(
        t=_milliseconds(effect.t), what=effect.what, ms=_milliseconds(effect.ms)
    )


@record_of.register
def _(effect: Ended) -> Record:
    return EndedRecord(t=_milliseconds(effect.t), why=effect.why)


def _milliseconds(t: float) -> float:
    """Return a time as it is written: with at most three decimals."""
    return round(t, 3)
