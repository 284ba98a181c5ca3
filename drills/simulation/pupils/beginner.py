"""A beginner on the ladder: skills by what a card asks, and a little learning from every answer.

Every answer takes a skill the same share of the way to sure (the linear operator of Bush and
Mosteller 1955); how large that share is is invented. They show the ways of the ladder, not real
children.
"""

from __future__ import annotations

import random

from drills.cards.card import READING_KINDS, Card, Kind
from drills.cards.card_rules import rule_of
from drills.sessions.view import View
from drills.simulation.pupils.misreadings import misread
from drills.simulation.pupils.player import Touch
from landmarks.answer import Verdict
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY


class Beginner:
    """Has skills from 0 to 1, by what a card asks, and learns a little from every answer."""

    def __init__(self, seed: int | str, learns: float = 0.12, **skills: float) -> None:
        """Make a beginner: the share of right answers at first, by what is asked.

        That is `shapes`, `place` and `name` (keys), `treble` and `bass` (notes), and `steps`
        (beside a landmark that is shown); `learns` is the share of what is missing that an answer
        teaches.
        """
        self._random = random.Random(seed)
        self._learns = learns
        self._skills = skills
        self._known: dict[Card | str, float] = {}

    def touch(self, view: View, attempt: int) -> Touch:
        """Return the answer to what is shown: the first, or one after so many slips."""
        card = view.card
        assert card is not None
        right = self._random.random() < self._known_share(card, view)
        seconds = self._random.lognormvariate(0.2, 0.3)
        return Touch(seconds, (self._key(card, view, right),))

    def _known_share(self, card: Card, view: View) -> float:
        name = skill_of(card)
        if name == "lit":
            return 0.97
        slot = card if name in ("treble", "bass") else name
        share = self._known.get(slot, self._skills.get(name, 0.05))
        if name in ("treble", "bass") and card.form:
            share = max(share, self._skills.get("steps", 0.5))
        self._known[slot] = share + (0.97 - share) * self._learns
        return share if view.help <= rule_of(card).first_help else 0.95

    def _key(self, card: Card, view: View, right: bool) -> int:
        if not right and card.kind in READING_KINDS:
            return misread(card, self._random)
        how = rule_of(card)
        keys = [
            key
            for key in range(LOWEST_PIANO_KEY, HIGHEST_PIANO_KEY + 1)
            if key != view.last or view.move
        ]
        good = [k for k in keys if how.judged(k, view.move, view.last).verdict is Verdict.EXACT]
        bad = [k for k in keys if k not in good and abs(k - card.key) < 8]
        chosen = good if right or not bad else bad
        near = [key for key in chosen if abs(key - (view.last or card.key)) < 6]
        return self._random.choice(near or chosen)


def skill_of(card: Card) -> str:
    """Return what a beginner must be able to do for a card."""
    match card.kind, card.form:
        case Kind.CONTOUR, _:
            return "shapes"
        case Kind.KEY, "":
            return "lit"
        case Kind.KEY, form:
            return form
    return card.clef.name
