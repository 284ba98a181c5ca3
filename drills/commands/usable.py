"""What is kept of a pupil, as far as it can be used: damaged files are told of and passed over."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TypeVar

from drills.learning.prior_knowledge.observations import Observations, PriorKnowledgeError
from drills.storage.plan import HomePlan, PlanError, plan_of
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.settings import Settings, SettingsError, settings_of
from drills.storage.studio import Pupil
from landmarks.translation import _

Kept = TypeVar("Kept")


def usable_plan(pupil: Pupil) -> HomePlan | None:
    """Give the home plan; without a usable one, all notes are practised."""
    return _usable(plan_of, pupil, _("all notes are practised meanwhile"))


def usable_beginnings(pupil: Pupil) -> Observations | None:
    """Give what a pupil brings; without anything usable, practice does not follow the ladder."""
    return _usable(observations_of, pupil, _("all notes are practised meanwhile"))


def usable_settings(pupil: Pupil) -> Settings:
    """Give a pupil's settings; without usable ones, the usual settings."""
    found = _usable(settings_of, pupil, _("the usual settings hold meanwhile"))
    return found or Settings()


def _usable(kept_of: Callable[[Pupil], Kept | None], pupil: Pupil, meanwhile: str) -> Kept | None:
    try:
        return kept_of(pupil)
    except (PlanError, PriorKnowledgeError, SettingsError, OSError) as error:
        print(f"landmark-drills: {error}; {meanwhile}", file=sys.stderr)
        return None
