"""The few words under a card: what was found, or where the pressed key lives."""

from __future__ import annotations

from dataclasses import dataclass

from drills.card import Card, Kind
from drills.view import Help, Phase, View
from landmarks.answer import Answer, Verdict
from landmarks.names import Naming, landmark_name
from landmarks.pitch import Pitch
from landmarks.stave import other_clef

PRESS = "press this key"


@dataclass(frozen=True)
class Remark:
    """A large line to read at a glance, and a smaller one that says more."""

    headline: str = ""
    detail: str = ""


def remark(view: View, naming: Naming) -> Remark:
    """Say what a view has to say, in as few words as it takes."""
    card = view.card
    if view.phase is Phase.RIGHT and card is not None:
        return Remark("you followed the line" if card.kind is Kind.CONTOUR else card.named(naming))
    if view.tuning:
        again = "middle C once more" if view.tuning_again else "press middle C"
        return Remark(again, "so that the piano and the screen agree")
    if view.answer is not None and card is not None:
        return _touch_remark(view, view.answer, naming)
    if view.piano_lost:
        return Remark("where is the piano?", "switch it on or plug it in; your card waits")
    if view.piano_refused and view.help is not Help.NAME:
        return Remark("the piano is busy", "close the program that has it; your card waits")
    return Remark() if card is None else _asking(card, view, naming)


def _asking(card: Card, view: View, naming: Naming) -> Remark:
    if card.kind is Kind.CONTOUR:
        return _asking_contour(card, view)
    if card.kind is Kind.KEY:
        return Remark("find this key", "any of them will do") if card.form else Remark(PRESS)
    return Remark(card.named(naming)) if view.help is Help.NAME else Remark()


def _asking_contour(card: Card, view: View) -> Remark:
    if view.move == 0:
        return Remark("begin on any key", "then follow the shapes, each when you are ready")
    return _way(card, view) if view.help >= Help.LANDMARK else Remark()


def _way(card: Card, view: View) -> Remark:
    """Say which way the next shape lies from the one before."""
    size = card.contour.moves[view.move - 1]
    if size == 0:
        return Remark("this one stays", "the same key again")
    higher = size > 0
    side = "right" if higher else "left"
    return Remark(f"this one is {'higher' if higher else 'lower'}", f"a key further to the {side}")


def _touch_remark(view: View, answer: Answer, naming: Naming) -> Remark:
    assert view.card is not None
    card = view.card
    if answer.verdict is Verdict.CLUSTER:
        return Remark("one key at a time")
    if card.kind is Kind.CONTOUR:
        return Remark() if answer.verdict is Verdict.EXACT else _way(card, view)
    if answer.verdict is Verdict.EXACT:
        return Remark(card.named(naming))
    if card.kind is Kind.KEY:
        nearest = Pitch(answer.played.diatonic - answer.steps, card.target.alteration)
        return Remark(distance(answer, nearest), "find this key" if card.form else PRESS)
    return _misread(card, answer, naming)


def _misread(card: Card, answer: Answer, naming: Naming) -> Remark:
    played = f"you played {naming.of(answer.played)}"
    if answer.verdict is Verdict.DIRECTION:
        way = "down" if card.steps < 0 else "up"
        return Remark(f"go {way} from {landmark_name(card.anchor, card.clef, naming)}", played)
    if answer.verdict is Verdict.CLEF:
        other = other_clef(card.clef).name
        return Remark(f"look: {card.clef.name} clef", f"in the {other} clef it would be your note")
    return Remark(distance(answer, card.target), played)


def distance(answer: Answer, target: Pitch) -> str:
    """Say how far the played key lies from the note asked for: "2 steps below"."""
    half_steps = answer.played.midi - target.midi
    side = "above" if (answer.steps or half_steps) > 0 else "below"
    if answer.verdict is Verdict.OCTAVE:
        octaves = abs(answer.steps) // 7
        return f"right name, {octaves} octave{'s' * (octaves > 1)} {side}"
    if answer.steps == 0:
        size = "half a step" if abs(half_steps) == 1 else f"{abs(half_steps)} half steps"
        return f"{size} {side}"
    steps = abs(answer.steps)
    return f"{steps} step{'s' * (steps > 1)} {side}"
