"""What is kept of a pupil, as far as it can be used: damaged files are told of and passed over."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import TypeVar

from drills.learning.prior_knowledge.observations import Observations
from drills.storage.plan import HomePlan, plan_of
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.settings import Settings, settings_of
from drills.storage.studio import Pupil
from drills.text.errors import DrillsError
from landmarks.translation import _

LOG = logging.getLogger("landmark-drills")
"""Takes a sentence for each thing that was passed over; who listens decides how it is shown."""

Loaded = TypeVar("Loaded")


def load_plan(pupil: Pupil) -> HomePlan | None:
    """Return the home plan; None, so that all notes are practised, without a usable one."""
    return _load(plan_of, pupil, _("all notes are practised meanwhile"))


def load_observations(pupil: Pupil) -> Observations | None:
    """Return what a pupil brings; None, so that practice leaves the ladder, without any."""
    return _load(observations_of, pupil, _("all notes are practised meanwhile"))


def load_settings(pupil: Pupil) -> Settings:
    """Return a pupil's settings; without usable ones, the usual settings."""
    return _load(settings_of, pupil, _("the usual settings hold meanwhile")) or Settings()


def _load(read: Callable[[Pupil], Loaded | None], pupil: Pupil, meanwhile: str) -> Loaded | None:
    try:
        return read(pupil)
    except (DrillsError, OSError) as error:
        LOG.warning("%s; %s", error, meanwhile)
        return None
