"""An open window with its piano, in which pupils practise and warm up one after another."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from enum import Enum, auto
from types import TracebackType
from typing import TYPE_CHECKING

from drills.cards.card import Card, cards_of
from drills.commands.everybody import keep_mark, marks_in, settings_for_all
from drills.commands.music import Music, music_of
from drills.commands.options import pupil_of, seed_of, studio_of
from drills.commands.output import kept_in
from drills.commands.refusal import Refusal
from drills.commands.screen import opened_screen
from drills.commands.usable import usable_plan
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.observations import Decision
from drills.learning.scheduler import CardChooser, Climb
from drills.sessions.practice import Drill
from drills.sessions.records import Use
from drills.storage.plan import home_plan, write_plan
from drills.storage.recorder import Recorder, SessionClock
from drills.storage.settings import Settings
from drills.storage.studio import Pupil, Studio
from drills.storage.unfinished_session import cut_short
from drills.window.pages.card_page import PageSetting
from drills.window.speech import Speaker, speaker
from landmarks.translation import _

if TYPE_CHECKING:
    import pygame

    from drills.learning.warm_up import Outcome
    from drills.sessions.spotting.pages import Page
    from drills.window.scene import Scene

FIRST_NICKNAME = "Pianist"


class Chosen(Enum):
    """What may be chosen on the first page beside a pupil."""

    TEACHER = auto()
    NOBODY = auto()


class Sitting:
    """The window, the piano and the studio, as the options of a command ask for them."""

    _speaker: Speaker | None = None

    def __init__(self, arguments: argparse.Namespace) -> None:
        """Read the options. Refusal, in one sentence, if something named cannot be used."""
        self.studio = studio_of(arguments)
        self._arguments = arguments
        self.seed = seed_of(arguments)
        self.music(None)

    def music(self, pupil: Pupil | None) -> Music:
        """Give what the options and a pupil's settings say."""
        return music_of(self._arguments, pupil)

    def __enter__(self) -> Sitting:
        """Open the window and look for a piano. Refusal where there is no screen."""
        screen = opened_screen(self._arguments)

        from drills.piano import Piano  # noqa: PLC0415
        from drills.window.window import Window, wake_window  # noqa: PLC0415

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
        self._piano.close()
        if self._speaker is not None:
            self._speaker.close()

    def practise(self, pupil: Pupil) -> bool:
        """Let a pupil practise what the home plan asks for; False if the window was closed."""
        from drills.window.pages.practice_scene import PracticeScene  # noqa: PLC0415

        plan, music = usable_plan(pupil), self.music(pupil)
        if plan is None and music.settings.ladder and music.beginnings is not None:
            return self._climb(pupil, music.beginnings.decisions, music)
        asked = None if plan is None else plan.asked(music.landmarks)
        further = [card for card in asked or () if card not in music.cards]
        cards = (*music.cards, *further)
        minutes = None if plan is None else float(plan.minutes)
        planner = music.planner(cards, pupil.responses(), self.seed, minutes, asked)

        def scene(drill: Drill, clock: SessionClock, recorder: Recorder) -> Scene:
            setting = self._setting(music, cards)
            return PracticeScene(setting, drill, planner, clock, recorder.carry_out)

        return self._session(pupil, music, planner, "practice", scene)

    def _climb(self, pupil: Pupil, decisions: Sequence[Decision], music: Music) -> bool:
        """Let a pupil practise on the ladder, from what she brings."""
        from drills.learning.ladder.chooser import LadderChooser  # noqa: PLC0415
        from drills.learning.ladder.material import ladder_cards  # noqa: PLC0415
        from drills.window.pages.practice_scene import PracticeScene  # noqa: PLC0415

        chooser = LadderChooser(
            ladder_cards(music.landmarks), music.brought, tuple(pupil.responses()), decisions,
            self.seed, float(music.settings.minutes), music.settings.fluency,
        )  # fmt: skip

        def scene(drill: Drill, clock: SessionClock, recorder: Recorder) -> Scene:
            setting = self._setting(music, music.cards)
            return PracticeScene(setting, drill, chooser, clock, recorder.carry_out)

        return self._session(pupil, music, chooser, "practice", scene, chooser)

    def warm_up(self, pupil: Pupil) -> bool:
        """Warm a pupil up in the lesson; False if the window was closed meanwhile."""
        from drills.learning.warm_up import WarmUp  # noqa: PLC0415
        from drills.window.pages.warm_up_choice import WarmUpChoice  # noqa: PLC0415
        from drills.window.pages.warm_up_scene import WarmUpScene  # noqa: PLC0415

        music = self.music(pupil)
        planner = music.planner(music.cards, pupil.responses(), self.seed)
        cards = cards_of(music.landmarks)
        now = SessionClock().started
        self._suit(music.settings)
        choice = WarmUpChoice(
            pupil.nickname, cards, lambda card: planner.standing(card, now), music.landmarks,
            music.naming,
        )  # fmt: skip
        if not self._window.show(choice):
            return False
        if not choice.started:
            return True
        warm_up = WarmUp(planner, choice.asked, now)

        def scene(drill: Drill, clock: SessionClock, recorder: Recorder) -> Scene:
            setting = self._setting(music, music.cards)
            return WarmUpScene(setting, drill, warm_up, clock, recorder.carry_out)

        if not self._session(pupil, music, warm_up, "warm-up", scene):
            return False
        return self._outcome(pupil, music, planner, warm_up.outcomes(SessionClock().started))

    def spot(self, pupil: Pupil, pages: Iterator[Page], minutes: float) -> bool:
        """Let a pupil find notes in lines of music; False if the window was closed."""
        from drills.sessions.spotting.spotting import Spotting  # noqa: PLC0415
        from drills.window.pages.spotting_page import SpottingSetting  # noqa: PLC0415
        from drills.window.pages.spotting_scene import SpottingScene  # noqa: PLC0415

        music = self.music(pupil)
        large = music.settings.size == "large"

        def scene(clock: SessionClock, recorder: Recorder) -> Scene:
            return SpottingScene(
                SpottingSetting(*self._window.size, large),
                Spotting(pages, minutes),
                clock,
                recorder.carry_out,
            )

        return self._recorded(pupil, music, "spotting", scene)

    def choose_pupil(self, teacher: bool = True) -> Pupil | Chosen:
        """Ask who is playing; a new pupil is made. `teacher` offers the teacher's page, too.

        Refusal if the pupil cannot be made.
        """
        from drills.window.pages.first_page import NEW, PUPIL, FirstPage  # noqa: PLC0415
        from drills.window.pages.first_page import TEACHER as TEACHERS_PAGE  # noqa: PLC0415

        while True:
            marks = marks_in(self.studio)
            if not marks:
                return self._new_pupil(marks, teacher)
            self._suit(settings_for_all(self.studio))
            page = FirstPage(marks, teacher)
            if not self._window.show(page) or page.chosen is None:
                return Chosen.NOBODY
            if page.chosen == TEACHERS_PAGE:
                return Chosen.TEACHER
            if page.chosen != NEW:
                return self.studio.known_pupil(page.chosen.removeprefix(PUPIL))
            made = self._new_pupil(marks, teacher=False)
            if made is not Chosen.NOBODY or not self.is_open:
                return made

    def add_pupil(self) -> bool:
        """Make a new pupil, if one is wanted; False if the window was closed meanwhile."""
        self._new_pupil(marks_in(self.studio), teacher=False)
        return self.is_open

    def _new_pupil(self, marks: Mapping[str, str], teacher: bool) -> Pupil | Chosen:
        from drills.window.pages.new_pupil import NewPupilPage  # noqa: PLC0415

        page = NewPupilPage(marks, set(marks.values()), teacher)
        if not self._window.show(page):
            return Chosen.NOBODY
        if page.chosen is None:
            return Chosen.TEACHER if page.to_teacher else Chosen.NOBODY
        nickname, mark = page.chosen
        pupil = pupil_of(nickname, self.studio)
        keep_mark(pupil, mark)
        return pupil

    def show(self, scene: Scene) -> bool:
        """Show any scene of the teacher's; False if the window was closed meanwhile."""
        self._suit(Settings(speech=settings_for_all(self.studio).speech))
        return self._window.show(scene)

    @property
    def is_open(self) -> bool:
        """Whether the window has not been closed."""
        return self._window.is_open

    @property
    def screen(self) -> pygame.Surface:
        """What the window draws on."""
        return self._window.screen

    @property
    def piano_name(self) -> str | None:
        """The name of the connected piano, or None."""
        return self._window.piano_name

    def set_words(self) -> list[str]:
        """Give the option that names the landmark set, if given, as words of a command line."""
        return ["--set", self._arguments.set] if self._arguments.set else []

    def music_words(self) -> list[str]:
        """Give the options of set, names and staves that were given, as words."""
        names = ["--names", self._arguments.names] if self._arguments.names else []
        return [*self.set_words(), *names, *["--grand"] * self._arguments.grand]

    def _outcome(
        self, pupil: Pupil, music: Music, planner: Planner, outcomes: tuple[Outcome, ...]
    ) -> bool:
        from drills.learning.warm_up import week  # noqa: PLC0415
        from drills.window.pages.warm_up_outcome import WarmUpOutcome  # noqa: PLC0415

        now = SessionClock().started
        cards = week(cards_of(music.landmarks), lambda card: planner.standing(card, now), outcomes)

        def set_plan() -> str:
            plan = home_plan(pupil.nickname, now, cards, music.settings.minutes)
            with kept_in(pupil.folder, _("the home plan")):
                return write_plan(plan, pupil.folder).name

        return self._window.show(
            WarmUpOutcome(pupil.nickname, outcomes, cards, music.naming, set_plan)
        )

    def _session(
        self,
        pupil: Pupil,
        music: Music,
        chooser: CardChooser,
        use: Use,
        scene: Callable[[Drill, SessionClock, Recorder], Scene],
        climb: Climb | None = None,
    ) -> bool:
        if found := cut_short(pupil):
            print(f"landmark-drills: {pupil.nickname}: {found}", file=sys.stderr)

        def drilled(clock: SessionClock, recorder: Recorder) -> Scene:
            drill = Drill(chooser, clock.started, climb)
            return scene(drill, clock, recorder)

        return self._recorded(pupil, music, use, drilled)

    def _recorded(
        self,
        pupil: Pupil,
        music: Music,
        use: Use,
        scene: Callable[[SessionClock, Recorder], Scene],
    ) -> bool:
        """Show a scene whose session is written; False if the window was closed meanwhile."""
        self._suit(music.settings)
        clock = SessionClock()
        recorder = Recorder(self.studio, pupil, music.landmarks, self.seed, clock, use=use)
        try:
            return self._window.show(scene(clock, recorder))
        finally:
            recorder.close()

    def _suit(self, settings: Settings) -> None:
        """Let the window look and sound as somebody's settings say."""
        from drills.engrave.theme import THEMES  # noqa: PLC0415

        self._window.quiet = settings.quiet
        self._window.theme = THEMES[settings.look]
        if settings.speech and self._speaker is None:
            self._speaker = speaker()
        self._window.speaker = self._speaker if settings.speech else None

    def _setting(self, music: Music, cards: tuple[Card, ...]) -> PageSetting:
        return PageSetting(
            *self._window.size, music.grand, music.naming, cards,
            large=music.settings.size == "large", motion=music.settings.motion,
        )  # fmt: skip


def only_pupil(studio: Studio) -> str:
    """Give the nickname of the only pupil there is, or of a first one. Refusal if several."""
    pupils = studio.pupils()
    if len(pupils) > 1:
        names = ", ".join(pupil.nickname for pupil in pupils)
        raise Refusal(
            _("{folder} holds several pupils; add --pupil and one of {names}").format(
                folder=studio.folder, names=names
            )
        )
    return pupils[0].nickname if pupils else FIRST_NICKNAME
