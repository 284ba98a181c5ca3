"""An open window with its piano, in which pupils practise and warm up one after another."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum, auto
from types import TracebackType
from typing import TYPE_CHECKING

import msgspec
import pygame

from drills.app.practice import OpenSession, begin_session, practice_of
from drills.app.practice_context import PracticeContext, PracticeOptions, practice_context
from drills.app.prior_knowledge import begin_before_stave
from drills.app.session_clock import SessionClock
from drills.app.studio_defaults import keep_mark, known_pupil, marks_in, settings_for_all
from drills.app.tolerant_loading import LOG
from drills.cards.card import Card
from drills.engrave.theme import THEMES
from drills.piano import Piano
from drills.sessions.records import Use
from drills.storage.settings import Settings
from drills.storage.studio import Pupil, Studio
from drills.storage.unfinished_session import describe_unfinished
from drills.window.pages.card_page import PageSetting
from drills.window.pages.first_look import FirstLookPage
from drills.window.pages.first_page import NEW, PUPIL, FirstPage
from drills.window.pages.first_page import TEACHER as TEACHERS_PAGE
from drills.window.pages.marks import marks_of
from drills.window.pages.new_pupil import NewPupilPage
from drills.window.pages.practice_scene import PracticeScene, Wish
from drills.window.scene import Scene
from drills.window.screen import open_screen
from drills.window.speech import Speaker, speaker
from drills.window.termination import ending_at_once, ending_within
from drills.window.trouble import trouble_page
from drills.window.window import Window, wake_window
from landmarks.stave import Clef

if TYPE_CHECKING:
    from drills.app.spotting_options import SpottingOptions
    from drills.app.warm_up import WeekAfter
    from drills.learning.warm_up import Outcome
    from drills.sessions.spotting.pages import Page


LONGEST_CLOSING = 4.0
"""Seconds that a driver is given to let go of the piano; all is written by then."""


class Chosen(Enum):
    """What may be chosen on the first page beside a pupil."""

    TEACHER = auto()
    NOBODY = auto()


@dataclass(frozen=True)
class WindowOptions:
    """How the window is opened: `size` in pixels, None for most of the desktop."""

    size: tuple[int, int] | None = None
    full_screen: bool = False


class WindowFlow:
    """The window and its piano in a studio; leads from one use to the next.

    Each use returns False if the window was closed meanwhile.
    """

    _speaker: Speaker | None = None

    def __init__(
        self, studio: Studio, options: PracticeOptions, seed: int, window: WindowOptions
    ) -> None:
        """Prepare the window. `UserError` if what is asked for by hand cannot be used."""
        self.studio = studio
        self.options = options
        self.seed = seed
        self._asked = window
        self.failed = False
        """Whether something could not be done, and was told on a page."""
        self.context(None)

    def context(self, pupil: Pupil | None) -> PracticeContext:
        """Return what holds for a pupil here, or for nobody in particular."""
        return practice_context(pupil, self.options)

    def __enter__(self) -> WindowFlow:
        """Open the window and look for a piano. `NoScreenError` where there is no screen."""
        screen = open_screen(self._asked.size, self._asked.full_screen)
        self._piano = Piano(wake_window, preferred=self.studio.last_piano())
        self._window = Window(screen, self._piano, self.studio.shift_of)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        """Let go of the piano, and fall silent."""
        if self._speaker is not None:
            self._speaker.close()
        with ending_at_once(), ending_within(LONGEST_CLOSING):
            self._piano.close()

    def safely(self, use: Callable[[], bool]) -> bool:
        """Do something; tell on a page what kept it from being done."""
        try:
            return use()
        except Exception as error:
            self.failed = True
            return self.show(trouble_page(error, self.studio.folder))

    def practise(self, pupil: Pupil) -> bool:
        """Let a pupil practise what the home plan asks for, as many rounds as she likes."""
        only: Clef | None = None
        _tell_of_unfinished(pupil)
        while True:
            scene = self._practise_once(pupil, only)
            if scene is None:
                return False
            if scene.wish is Wish.STOP:
                return True
            only = scene.only or only

    def _practise_once(self, pupil: Pupil, only: Clef | None) -> PracticeScene | None:
        """Return the scene of a session that is over; None if the window was closed meanwhile."""
        context = self.context(pupil)
        practice = practice_of(pupil, context, self.seed, only)
        shown: list[PracticeScene] = []

        def scene(session: OpenSession) -> Scene:
            shown.append(
                PracticeScene(
                    self._setting(context, practice.cards),
                    practice.drill(session.clock.started),
                    practice.chooser,
                    session.clock,
                    session.recorder.carry_out,
                )
            )
            return shown[0]

        return shown[0] if self.recorded(pupil, context, "practice", scene) else None

    def warm_up(self, pupil: Pupil) -> bool:
        """Warm a pupil up in the lesson."""
        from drills.app.warm_up import offer_warm_up, week_after
        from drills.window.pages.warm_up_choice import WarmUpChoice
        from drills.window.pages.warm_up_scene import WarmUpScene

        context = self.context(pupil)
        offer = offer_warm_up(pupil, context, self.seed, SessionClock().started)
        self._suit(context.settings)
        choice = WarmUpChoice(
            pupil.nickname, offer.cards, offer.standing, context.landmarks, context.naming
        )
        if not self._window.show(choice):
            return False
        if not choice.started:
            return True
        practice, warm_up = offer.chosen(choice.asked)

        def scene(session: OpenSession) -> Scene:
            return WarmUpScene(
                self._setting(context, practice.cards),
                practice.drill(session.clock.started),
                warm_up,
                session.clock,
                session.recorder.carry_out,
            )

        _tell_of_unfinished(pupil)
        if not self.recorded(pupil, context, "warm-up", scene):
            return False
        now = SessionClock().started
        outcomes = warm_up.outcomes(now)
        return self._outcome(week_after(offer, outcomes, now), outcomes)

    def spotting_pages(self, pupil: Pupil, asked: SpottingOptions) -> Iterator[Page]:
        """Return the lines in which a pupil looks for notes. `DrillsError` if there is none."""
        from drills.app.spotting_options import pages_of, questions_of

        context = self.context(pupil)
        questions = questions_of(asked, pupil, context, SessionClock().started)
        return pages_of(asked, questions, context, self.seed)

    def spot(self, pupil: Pupil, pages: Iterator[Page], minutes: float) -> bool:
        """Let a pupil find notes in lines of music."""
        from drills.sessions.spotting.spotting import Spotting
        from drills.window.pages.spotting_page import SpottingSetting
        from drills.window.pages.spotting_scene import SpottingScene

        context = self.context(pupil)
        large = context.settings.size == "large"

        def scene(session: OpenSession) -> Scene:
            return SpottingScene(
                SpottingSetting(*self._window.size, large),
                Spotting(pages, minutes),
                session.clock,
                session.recorder.carry_out,
            )

        return self.recorded(pupil, context, "spotting", scene)

    def listen(self, pupil: Pupil) -> bool:
        """Listen to what a pupil brings: pulse, echo, higher and lower."""
        from drills.app.listening import KeptEvidence
        from drills.sessions.listening.listening import Listening
        from drills.window.pages.listening_scene import ListeningScene

        def scene(session: OpenSession) -> Scene:
            return ListeningScene(
                pupil.nickname,
                Listening(self.seed),
                session.clock,
                session.recorder.carry_out,
                self._window.tones,
                KeptEvidence(pupil, session.clock.now),
            )

        return self.recorded(pupil, self.context(pupil), "listening", scene)

    def choose_pupil(self, teacher: bool = True) -> Pupil | Chosen:
        """Ask who is playing; a new pupil is made. `teacher` offers the teacher's page, too.

        Raises:
            StudioError: the pupil cannot be made.
        """
        while True:
            marks = self.marks()
            if not marks:
                return self._new_pupil(marks, teacher)
            self._suit(settings_for_all(self.studio))
            page = FirstPage(marks, teacher)
            if not self._window.show(page) or page.chosen is None:
                return Chosen.NOBODY
            if page.chosen == TEACHERS_PAGE:
                return Chosen.TEACHER
            if page.chosen != NEW:
                return known_pupil(page.chosen.removeprefix(PUPIL), self.studio)
            made = self._new_pupil(marks, teacher=False)
            if made is not Chosen.NOBODY or not self.is_open:
                return made

    def add_pupil(self) -> bool:
        """Make a new pupil, if one is wanted."""
        self._new_pupil(self.marks(), teacher=False)
        return self.is_open

    def marks(self) -> dict[str, str]:
        """Return the pupils of the studio by their nicknames, with their marks."""
        return marks_in(self.studio, marks_of)

    def show_to(self, pupil: Pupil, scene: Scene) -> bool:
        """Show a scene in a pupil's own look; nothing of it is written."""
        self._suit(self.context(pupil).settings)
        return self._window.show(scene)

    def show(self, scene: Scene) -> bool:
        """Show any scene of the teacher's."""
        self._suit(Settings(speech=settings_for_all(self.studio).speech))
        return self._window.show(scene)

    @property
    def is_open(self) -> bool:
        """Whether the window has not been closed."""
        return self._window.is_open

    @property
    def size(self) -> tuple[int, int]:
        """The width and height of the window, in pixels."""
        return self._window.size

    @property
    def screen(self) -> pygame.Surface:
        """What the window draws on."""
        return self._window.screen

    @property
    def piano_name(self) -> str | None:
        """The name of the connected piano, or None."""
        return self._window.piano_name

    def _new_pupil(self, marks: Mapping[str, str], teacher: bool) -> Pupil | Chosen:
        page = NewPupilPage(marks, set(marks.values()), teacher)
        if not self._window.show(page):
            return Chosen.NOBODY
        if page.chosen is None:
            return Chosen.TEACHER if page.to_teacher else Chosen.NOBODY
        nickname, mark = page.chosen
        pupil = self.studio.pupil(nickname)
        keep_mark(pupil, mark)
        look = FirstLookPage()
        if self._window.show(look) and look.known is False:
            begin_before_stave(pupil, SessionClock().now())
        return pupil if self.is_open else Chosen.NOBODY

    def _outcome(self, after: WeekAfter, outcomes: tuple[Outcome, ...]) -> bool:
        from drills.window.pages.warm_up_outcome import WarmUpOutcome

        return self._window.show(
            WarmUpOutcome(
                after.pupil.nickname,
                outcomes,
                after.cards,
                after.context.naming,
                lambda: after.set_plan().name,
            )
        )

    def recorded(
        self,
        pupil: Pupil,
        context: PracticeContext,
        use: Use,
        scene: Callable[[OpenSession], Scene],
    ) -> bool:
        """Show a scene whose session is written; whatever ends it, what was played is kept."""
        settings = context.settings
        voice = settings.speech or context.prior_knowledge.wants_voice
        self._suit(msgspec.structs.replace(settings, speech=voice))
        session = begin_session(self.studio, pupil, context, self.seed, use)
        try:
            return self._window.show(scene(session))
        finally:
            session.recorder.close()

    def _suit(self, settings: Settings) -> None:
        """Let the window look and sound as somebody's settings say."""
        self._window.quiet = settings.quiet
        self._window.theme = THEMES[settings.look]
        if settings.speech and self._speaker is None:
            self._speaker = speaker()
        self._window.speaker = self._speaker if settings.speech else None

    def _setting(self, context: PracticeContext, cards: tuple[Card, ...]) -> PageSetting:
        return PageSetting(
            *self._window.size, context.grand, context.naming, cards,
            large=context.settings.size == "large", motion=context.settings.motion,
        )  # fmt: skip


def _tell_of_unfinished(pupil: Pupil) -> None:
    if found := describe_unfinished(pupil):
        LOG.warning("%s: %s", pupil.nickname, found)
