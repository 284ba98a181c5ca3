"""The few words under a card: what was found, or where the pressed key lives."""

from __future__ import annotations

from dataclasses import dataclass

from drills.cards.card import Card, Kind
from drills.cards.help import Help
from drills.sessions.view import Phase, View
from landmarks.answer import Answer, Verdict
from landmarks.looks import look_of
from landmarks.names import Naming, landmark_name
from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import other_clef
from landmarks.translation import _, gettext_noop, ngettext

PRESS = gettext_noop("press this key")


@dataclass(frozen=True)
class Remark:
    """A large line to read at a glance, and a smaller one that says more."""

    headline: str = ""
    detail: str = ""


def remark(view: View, naming: Naming) -> Remark:
    """Say what a view has to say, in as few words as it takes."""
    card = view.card
    if view.phase is Phase.RIGHT and card is not None:
        return Remark(
            _("you followed the line") if card.kind is Kind.CONTOUR else card.named(naming)
        )
    if view.tuning:
        middle = naming.of(MIDDLE_C)
        again = _("middle {c} once more") if view.tuning_again else _("press middle {c}")
        return Remark(again.format(c=middle), _("so that the piano and the screen agree"))
    if view.answer is not None and card is not None:
        return _touch_remark(view, view.answer, naming)
    if view.piano_lost:
        return Remark(_("where is the piano?"), _("switch it on or plug it in; your card waits"))
    if view.piano_refused and view.help is not Help.NAME:
        return Remark(_("the piano is busy"), _("close the program that has it; your card waits"))
    return Remark() if card is None else _asking(card, view, naming)


def _asking(card: Card, view: View, naming: Naming) -> Remark:
    if card.kind is Kind.CONTOUR:
        return _asking_contour(card, view)
    if card.kind is Kind.KEY:
        any_key = Remark(_("find this key"), _("any of them will do"))
        return any_key if card.form else Remark(_(PRESS))
    if view.help is Help.NAME:
        return Remark(card.named(naming))
    return Remark(_from_landmark(card, view, naming)) if view.help is not Help.NONE else Remark()


def _from_landmark(card: Card, view: View, naming: Naming) -> str:
    """Say how the note is read: a landmark by its look, any other by the steps from one."""
    landmark = view.landmark
    if landmark is None:
        return look_of(card.target, card.clef)
    name = landmark_name(landmark.target, landmark.clef, naming)
    steps = card.target.diatonic - landmark.target.diatonic
    if steps == 0:
        return _("on the place of {landmark}").format(landmark=name)
    if steps > 0:
        return ngettext(
            "{count} step up from {landmark}", "{count} steps up from {landmark}", steps,
            landmark=name,
        )  # fmt: skip
    return ngettext(
        "{count} step down from {landmark}", "{count} steps down from {landmark}", -steps,
        landmark=name,
    )  # fmt: skip


def _asking_contour(card: Card, view: View) -> Remark:
    if view.move == 0:
        return Remark(_("begin on any key"), _("then follow the shapes, each when you are ready"))
    return _way(card, view) if view.help >= Help.LANDMARK else Remark()


def _way(card: Card, view: View) -> Remark:
    """Say which way the next shape lies from the one before."""
    size = card.contour.moves[view.move - 1]
    if size == 0:
        return Remark(_("stay"), _("the same key again"))
    if size > 0:
        return Remark(_("go higher"), _("a key further to the right"))
    return Remark(_("go lower"), _("a key further to the left"))


def _touch_remark(view: View, answer: Answer, naming: Naming) -> Remark:
    assert view.card is not None
    card = view.card
    if answer.verdict is Verdict.CLUSTER:
        return Remark(_("one key at a time"))
    if card.kind is Kind.CONTOUR:
        return Remark() if answer.verdict is Verdict.EXACT else _way(card, view)
    if answer.verdict is Verdict.EXACT:
        return Remark(card.named(naming))
    if card.kind is Kind.KEY:
        nearest = Pitch(answer.played.diatonic - answer.steps, card.target.alteration)
        return Remark(way_to_go(answer, nearest), _("find this key") if card.form else _(PRESS))
    return _misread(card, view, answer, naming)


def _misread(card: Card, view: View, answer: Answer, naming: Naming) -> Remark:
    played = _("you played {note}").format(note=naming.of(answer.played))
    if view.help is not Help.NONE:
        return Remark(_from_landmark(card, view, naming), played)
    if answer.verdict is Verdict.DIRECTION:
        way = _("go down from {landmark}") if card.steps < 0 else _("go up from {landmark}")
        landmark = landmark_name(card.anchor, card.clef, naming)
        return Remark(way.format(landmark=landmark), played)
    if answer.verdict is Verdict.CLEF:
        own, other = _(card.clef.name), _(other_clef(card.clef).name)
        return Remark(
            _("look: {clef} clef").format(clef=own),
            _("in the {clef} clef it would be your note").format(clef=other),
        )
    return Remark(way_to_go(answer, card.target), played)


def way_to_go(answer: Answer, target: Pitch) -> str:
    """Return what to do next after a wrong key: "too high – 2 steps down".

    Beyond an octave the steps are not counted, and beside the note's own line or space the keys
    are, black ones and white ones.
    """
    half_steps = answer.played.midi - target.midi
    above = (answer.steps or half_steps) > 0
    steps = abs(answer.steps)
    if answer.verdict is Verdict.OCTAVE:
        return _octaves_away(above, steps // 7)
    if steps > 7:
        return _about_octaves_away(above, round(steps / 7))
    if steps == 0:
        return _keys_away(above, abs(half_steps))
    if above:
        return ngettext("too high – {count} step down", "too high – {count} steps down", steps)
    return ngettext("too low – {count} step up", "too low – {count} steps up", steps)


def _octaves_away(above: bool, octaves: int) -> str:
    if above:
        return ngettext(
            "right name – {count} octave down", "right name – {count} octaves down", octaves
        )
    return ngettext("right name – {count} octave up", "right name – {count} octaves up", octaves)


def _about_octaves_away(above: bool, octaves: int) -> str:
    if above:
        return ngettext(
            "too high – about {count} octave down", "too high – about {count} octaves down", octaves
        )
    return ngettext(
        "too low – about {count} octave up", "too low – about {count} octaves up", octaves
    )


def _keys_away(above: bool, keys: int) -> str:
    if above:
        return ngettext("too high – the next key down", "too high – {count} keys down", keys)
    return ngettext("too low – the next key up", "too low – {count} keys up", keys)
