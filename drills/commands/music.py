"""With which landmarks, names and staves somebody practises.

What the command line says wins over the pupil's settings, and these over what is usual.
"""

from __future__ import annotations

import argparse
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from drills.cards.card import Card, cards_of, key_cards
from drills.commands.options import landmarks_named
from drills.commands.usable import usable_beginnings, usable_settings
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import NOTHING, PriorKnowledge, brought
from drills.learning.response import Response
from drills.storage.settings import Settings
from drills.storage.studio import Pupil
from landmarks.names import NAMINGS, Naming, usual_naming
from landmarks.sets import LandmarkSet


@dataclass(frozen=True)
class Music:
    """What notes are asked from, and how they are shown and named."""

    settings: Settings
    landmarks: LandmarkSet
    naming: Naming
    grand: bool
    beginnings: Observations | None
    """What is set down of what the pupil brings, if anything usable is."""

    @property
    def brought(self) -> PriorKnowledge:
        """What the pupil brings."""
        return NOTHING if self.beginnings is None else brought(self.beginnings)

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cards of the landmark set, and the keys that are shown."""
        return (*cards_of(self.landmarks), *key_cards(self.landmarks))

    def planner(
        self,
        cards: Sequence[Card],
        history: Iterable[Response],
        seed: int,
        minutes: float | None = None,
        asked: Collection[Card] | None = None,
    ) -> Planner:
        """Plan as the settings say; `minutes` if something else is said for now."""
        length = self.settings.minutes if minutes is None else minutes
        return Planner(
            cards, history, seed, asked=asked, minutes=float(length),
            fluency=self.settings.fluency, prior_knowledge=self.brought.odds(cards),
            upkeep=self.settings.upkeep,
        )  # fmt: skip


def music_of(arguments: argparse.Namespace, pupil: Pupil | None) -> Music:
    """Give what the options and a pupil's settings say. Refusal if a set cannot be used.

    Notes are named as is said there; or else as the pupil names them at school.
    """
    settings = Settings() if pupil is None else usable_settings(pupil)
    beginnings = None if pupil is None else usable_beginnings(pupil)
    landmarks = landmarks_named(arguments.set or settings.landmarks)
    if arguments.set is None:
        landmarks = settings.stepped(landmarks)
    named = getattr(arguments, "names", None) or settings.names
    return Music(
        settings,
        landmarks,
        _naming(named, beginnings),
        bool(getattr(arguments, "grand", False) or settings.grand),
        beginnings,
    )


def _naming(named: str | None, beginnings: Observations | None) -> Naming:
    """Give how notes are named: as it is said, or else as the pupil names them at school."""
    if named:
        return NAMINGS[named]
    known = None if beginnings is None else brought(beginnings).naming
    return known or usual_naming()
