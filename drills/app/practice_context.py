"""What holds for a pupil, found once for every use alike: landmarks, names, staves, plan.

What is asked for by hand wins over the pupil's settings, and these over what is usual.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime

from drills.app.tolerant_loading import load_observations, load_plan, load_settings
from drills.app.user_error import UserError
from drills.cards.card import Card, cards_of, key_cards
from drills.learning.fluency import Fluency
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import (
    NOTHING,
    PriorKnowledge,
    prior_knowledge_of,
)
from drills.storage.belief_checkpoint import planner_of
from drills.storage.landmark_set_file import landmarks_named
from drills.storage.plan import HomePlan
from drills.storage.settings import Settings
from drills.storage.studio import Pupil
from landmarks.names import NAMINGS, Naming, usual_naming
from landmarks.sets import LandmarkSet, SetError


@dataclass(frozen=True)
class PracticeOptions:
    """What is asked for by hand, whatever the pupil's settings say."""

    landmarks: str | None = None
    """A built-in landmark set, or the file of a teacher's own."""
    names: str | None = None
    """One of `landmarks.names.NAMINGS`."""
    grand: bool = False
    """Whether both staves are shown."""


@dataclass(frozen=True)
class PracticeContext:
    """What notes are asked from, how they are shown and named, and what is known beforehand."""

    settings: Settings
    landmarks: LandmarkSet
    naming: Naming
    grand: bool
    observations: Observations | None = None
    """What is set down of what the pupil brings, if anything usable is."""
    plan: HomePlan | None = None
    """The home plan, if there is a usable one."""

    @property
    def prior_knowledge(self) -> PriorKnowledge:
        """What the pupil brings."""
        return NOTHING if self.observations is None else prior_knowledge_of(self.observations)

    @property
    def fluency(self) -> Fluency:
        """How quick is fluent."""
        return self.settings.fluency

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cards of the landmark set, and the keys that are shown."""
        return (*cards_of(self.landmarks), *key_cards(self.landmarks))

    def planner(
        self,
        cards: Sequence[Card],
        pupil: Pupil | None,
        seed: int,
        now: datetime,
        minutes: float | None = None,
        asked: Collection[Card] | None = None,
    ) -> Planner:
        """Return a planner as the settings say; `minutes` if something else is said for now.

        It knows what the pupil, if there is one, answered until `now`.
        """
        length = float(self.settings.minutes if minutes is None else minutes)
        if pupil is None:
            return Planner(
                cards, (), seed, asked=asked, minutes=length, fluency=self.fluency,
                prior_knowledge=self.prior_knowledge.odds(cards), upkeep=self.settings.upkeep,
            )  # fmt: skip
        return planner_of(
            pupil, cards, seed, now, asked=asked, minutes=length, fluency=self.fluency,
            prior_knowledge=self.prior_knowledge, upkeep=self.settings.upkeep,
        )  # fmt: skip


def practice_context(
    pupil: Pupil | None, options: PracticeOptions = PracticeOptions()
) -> PracticeContext:
    """Return what holds for a pupil, or for nobody in particular.

    Notes are named as is said; or else as the pupil names them at school.

    Raises:
        UserError: the landmark set cannot be used.
    """
    settings = Settings() if pupil is None else load_settings(pupil)
    landmarks = landmarks_for(options.landmarks or settings.landmarks, pupil)
    if options.landmarks is None:
        landmarks = settings.stepped(landmarks)
    observations = None if pupil is None else load_observations(pupil)
    return PracticeContext(
        settings,
        landmarks,
        _naming(options.names or settings.names, observations),
        options.grand or settings.grand,
        observations,
        None if pupil is None else load_plan(pupil),
    )


def landmarks_for(name: str, pupil: Pupil | None) -> LandmarkSet:
    """Return a landmark set: a built-in one by name, else a teacher's file, a pupil's own first.

    Raises:
        UserError: there is no such set, or it cannot be used.
    """
    try:
        return landmarks_named(name, pupil)
    except SetError as error:
        raise UserError(error) from None


def _naming(named: str | None, observations: Observations | None) -> Naming:
    if named:
        return NAMINGS[named]
    known = None if observations is None else prior_knowledge_of(observations).naming
    return known or usual_naming()
