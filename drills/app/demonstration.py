"""A session, or a whole studio, of simulated pupils."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from drills.app.practice_context import PracticeContext
from drills.app.progress import UNWATCHED, Progress
from drills.app.session_clock import SessionClock
from drills.app.user_error import UserError
from drills.learning.planner import Planner
from drills.sessions.practice import Drill
from drills.sessions.view import View
from drills.simulation.demonstration import DemonstrationPupil, play
from drills.simulation.sample_beginners import BEGINNERS, write_sample_beginners
from drills.simulation.sample_studio import session_count, write_sample_studio
from drills.storage.recorder import Recorder
from drills.storage.studio import Pupil, Studio
from landmarks.translation import _

NICKNAME = "Demo"


@dataclass(frozen=True)
class Demonstration:
    """All that a simulated pupil's session needs."""

    context: PracticeContext
    pupil: Pupil
    clock: SessionClock
    planner: Planner
    drill: Drill
    recorder: Recorder
    player: DemonstrationPupil

    def play_at_once(self) -> View:
        """Play the whole session without waiting, and return the view of its last card.

        Raises:
            RecordingError: the session cannot be written.
        """
        views: list[View] = []
        for effect in play(self.drill, self.player, views.append):
            self.recorder.carry_out(effect)
        return views[-1]


def prepare_demonstration(folder: Path, context: PracticeContext, seed: int) -> Demonstration:
    """Prepare a session of a simulated pupil, whose file lies below a folder.

    Raises:
        StudioError: the folder cannot be made.
    """
    studio = Studio(folder)
    pupil = studio.pupil(NICKNAME)
    clock = SessionClock()
    planner = context.planner(context.cards, None, seed, clock.started)
    return Demonstration(
        context, pupil, clock, planner,
        Drill(planner, clock.started),
        Recorder(studio, pupil, context.landmarks, seed, clock, keys_timed_by="simulated"),
        DemonstrationPupil(seed),
    )  # fmt: skip


def invent_studio(
    folder: Path, seed: int, beginners: bool, progress: Progress = UNWATCHED
) -> Studio:
    """Make a studio of invented pupils whose last day of practice is yesterday.

    Raises:
        UserError: there are pupils in the folder.
        StudioError: it cannot be made.
        CancelledError: it was stopped; what was made before stays.
    """
    yesterday = date.today() - timedelta(days=1)
    studio = Studio(folder)
    if studio.pupils():
        raise UserError(
            _("{folder} holds pupils already; name a new folder with --studio").format(
                folder=folder
            )
        )
    count = len(BEGINNERS) if beginners else session_count(yesterday, seed)
    write = write_sample_beginners if beginners else write_sample_studio
    write(studio, yesterday, seed, advance=progress.counter(count))
    return studio
