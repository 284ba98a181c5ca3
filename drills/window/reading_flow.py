"""Lines that are read in the open window, and pieces that the teacher plays in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from drills.app.practice import OpenSession
from drills.app.reading_options import (
    ReadingOptions,
    lines_of_score,
    lines_to_read,
    pages_in_line,
)
from drills.app.session_clock import SessionClock
from drills.app.spotting_options import SPOTTING_MINUTES
from drills.sessions.effects import Effect, Hands, RememberPiano
from drills.sessions.reading.playing import TeacherPlaying
from drills.sessions.reading.reading import Reading
from drills.storage.studio import Pupil
from drills.window.pages.playing_page import PlayingSetting
from drills.window.pages.playing_scene import PlayingScene
from drills.window.pages.reading_page import ReadingSetting
from drills.window.pages.reading_scene import ReadingScene
from drills.window.scene import Scene
from landmarks.line import Line

if TYPE_CHECKING:
    from drills.window.window_flow import WindowFlow


class ReadingFlow:
    """What is done with whole lines at the piano. Each use returns False if the window closed."""

    def __init__(self, flow: WindowFlow) -> None:
        """Work in the window of `flow`."""
        self._flow = flow

    def lines(self, pupil: Pupil, asked: ReadingOptions) -> Iterator[Line]:
        """Return the lines that a pupil reads. `DrillsError` if there is none."""
        context = self._flow.context(pupil)
        return lines_to_read(asked, pupil, context, self._flow.seed, SessionClock().started)

    def read(self, pupil: Pupil, lines: Iterator[Line], hands: Hands, minutes: float) -> bool:
        """Let a pupil read lines of music at the piano."""
        context = self._flow.context(pupil)
        large = context.settings.size == "large"

        def scene(session: OpenSession) -> Scene:
            return ReadingScene(
                ReadingSetting(*self._flow.size, context.naming, large),
                Reading(lines, hands, minutes),
                session.clock,
                session.recorder.carry_out,
            )

        return self._flow.recorded(pupil, context, "reading", scene)

    def lines_of_piece(self, score: Path) -> list[Line]:
        """Return a whole score cut into lines. `DrillsError` if it cannot be read."""
        return list(lines_of_score(score, 1, "both"))

    def play_to(self, pupil: Pupil, lines: Sequence[Line]) -> bool:
        """Go with the teacher's playing; a pupil may be asked for something in her line."""
        context = self._flow.context(pupil)
        scene = PlayingScene(
            PlayingSetting(*self._flow.size), TeacherPlaying(lines), context.naming,
            SessionClock(), self._remember_piano,
        )  # fmt: skip
        while self._flow.show_to(pupil, scene):
            if scene.wanted is None:
                return True
            pages = pages_in_line(scene.wanted, context)
            if not self._flow.spot(pupil, pages, SPOTTING_MINUTES):
                break
        return False

    def _remember_piano(self, effect: Effect) -> None:
        """Keep how a piano is tuned, and nothing else of what is played."""
        if isinstance(effect, RememberPiano):
            self._flow.studio.remember_piano(effect.port, effect.shift)
