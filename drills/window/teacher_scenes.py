"""The scenes of the teacher's that change what is kept of a pupil."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from drills.app.practice_context import landmarks_for
from drills.app.prior_knowledge import climber, keep_observations, observations_for
from drills.app.pupil_settings import keep_settings
from drills.app.tolerant_loading import load_settings
from drills.storage.settings import Settings
from drills.storage.studio import Pupil
from drills.window.pages.prior_knowledge import BeginningsPage
from drills.window.pages.settings_page import SettingsPage
from drills.window.scene import Scene
from drills.window.speech import voice_here
from landmarks.sets import LandmarkSet


def settings_scene(pupil: Pupil) -> Scene:
    """Return the page on which a pupil's settings are changed."""
    present = load_settings(pupil)

    def keep(settings: Settings) -> None:
        nonlocal present
        keep_settings(present, settings, pupil)
        present = settings

    return SettingsPage(
        pupil.nickname,
        present,
        lambda name: landmarks_for(name, pupil),
        keep,
        has_voice=voice_here() is not None,
    )


def prior_knowledge_scene(
    pupil: Pupil, landmarks: LandmarkSet, now: Callable[[], datetime], listens: bool = False
) -> BeginningsPage:
    """Return the page of what a pupil brings; `now` gives aware times.

    `listens` offers to listen to her at the piano.

    Raises:
        PriorKnowledgeError: her file was damaged.
    """
    return BeginningsPage(
        observations_for(pupil),
        lambda seen: climber(seen, pupil, landmarks),
        lambda seen: keep_observations(seen, pupil),
        now,
        listens,
    )
