"""The lines of a session's file that tell of its cards, answers, piano and ladder."""

from __future__ import annotations

from typing import Literal

from drills.cards.card import Card, Kind
from drills.cards.card_rules import asking
from drills.learning.scheduler import Reached
from drills.sessions.events import KeyPressed, KeyReleased, PianoFound
from drills.sessions.key_group import Press
from drills.sessions.records import (
    Answered,
    CardShown,
    KeyMoved,
    MachineNoticed,
    PianoChanged,
    RungReached,
)
from drills.sessions.view import View
from landmarks.answer import Verdict


def milliseconds(t: float) -> float:
    """Give a time as it is written: with at most three decimals."""
    return round(t, 3)


def card_line(view: View, t: float) -> CardShown:
    """Tell that the card, or the next move of its contour, is there to be answered."""
    assert view.card is not None
    return shown_line(view.card, view.card.recorded_name, t, _move(view))


def shown_line(card: Card, name: str, t: float, move: int | None = None) -> CardShown:
    """Tell that a card is there to be answered, by the name that it is asked for."""
    return CardShown(
        t=milliseconds(t), id=card.id, kind=card.kind, clef=card.clef.name, target=card.key,
        name=name, move=move,
    )  # fmt: skip


def key_line(event: KeyPressed | KeyReleased, t: float) -> KeyMoved:
    """Tell that a key moved."""
    return KeyMoved(
        t=milliseconds(t), key=event.key, velocity=event.velocity, channel=event.channel,
        on=isinstance(event, KeyPressed),
    )  # fmt: skip


def answer_line(
    view: View, press: Press, shown: float, attempt: int, verdict: Verdict, why_not: str | None
) -> Answered:
    """Tell how a pressed key was judged; the help that belongs to a card is no hint."""
    card = view.card
    assert card is not None
    return Answered(
        t=milliseconds(press.t), id=card.id, verdict=verdict, played=press.key,
        ms=milliseconds(press.t - shown), attempt=attempt,
        hints=0 if view.help is asking(card).first_help else int(view.help),
        counted=why_not is None, why_not=why_not, move=_move(view),
    )  # fmt: skip


def piano_line(
    piano: PianoFound, t: float, change: Literal["lost", "found", "tuned"]
) -> PianoChanged:
    """Tell what happened to the piano."""
    return PianoChanged(
        t=milliseconds(t), change=change, port=piano.port, clock=piano.clock, shift=piano.shift
    )


def machine_line(what: Literal["stood still", "read late"], ms: float, t: float) -> MachineNoticed:
    """Tell what the machine did that a pupil could not help."""
    return MachineNoticed(t=milliseconds(t), what=what, ms=milliseconds(ms))


def rung_line(reached: Reached, t: float) -> RungReached:
    """Tell where on the ladder the pupil stands."""
    return RungReached(
        t=milliseconds(t), rung=reached.rung, before=reached.before, by=reached.by,
        why=reached.why,
    )  # fmt: skip


def _move(view: View) -> int | None:
    return view.move if view.card is not None and view.card.kind is Kind.CONTOUR else None
