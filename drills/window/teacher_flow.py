"""From the teacher's page to everything that is done from it, and back."""

from __future__ import annotations

import tempfile
import webbrowser
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import TypeVar

from drills.app.demonstration import prepare_demonstration
from drills.app.piece import read_piece
from drills.app.progress import Progress
from drills.app.pupil_files import forget_pupil
from drills.app.reading_options import LINES_OF_THE_WEEK, READING_MINUTES
from drills.app.session_clock import SessionClock
from drills.app.spotting_options import NOTES_OF_THE_WEEK, SPOTTING_MINUTES
from drills.app.studio_defaults import days_of_practice, keep_mark, known_pupil, latest_nickname
from drills.app.teacher_actions import TeacherActions
from drills.storage.import_files import ENDINGS as IMPORTED
from drills.storage.pupil_export import list_files
from drills.storage.studio import Pupil
from drills.text.formatting import short_day_of
from drills.window.demonstration import show_demonstration
from drills.window.pages.files_page import FilesPage
from drills.window.pages.list_page import ListPage
from drills.window.pages.message_page import MessagePage
from drills.window.pages.new_pupil import PicturePage
from drills.window.pages.teacher_page import TeacherPage, words_of
from drills.window.pages.waiting import WaitingPage
from drills.window.reading_flow import ReadingFlow
from drills.window.teacher_scenes import prior_knowledge_scene, settings_scene
from drills.window.window_flow import WindowFlow
from drills.window.worker import Failed
from landmarks.score.files import ENDINGS
from landmarks.translation import _

_DONE, _PLAN, _KEEP, _REMOVE = "done", "plan", "keep", "remove"
Value = TypeVar("Value")


class TeacherFlow:
    """What the teacher's page leads to. Whatever cannot be done is told, and the page returns.

    Each use returns False if the window was closed meanwhile.
    """

    def __init__(self, flow: WindowFlow) -> None:
        """Work in the window of `flow`."""
        self._flow, self._reading = flow, ReadingFlow(flow)
        self._actions = actions = TeacherActions(flow.studio, flow.options)
        self._folder = Path.home()
        self._answer: str | None = None
        self._title = ""
        self._uses: dict[str, Callable[[Pupil], bool]] = {
            "warm-up": flow.warm_up,
            "spot": self._spot,
            "read": self._read,
            "play": self._play,
            "piece": self._piece,
            "pieces": self._pieces,
            "beginnings": self._prior_knowledge,
            "settings": lambda pupil: flow.show(settings_scene(pupil)),
            "review": lambda pupil: self._page(partial(actions.review_page, pupil)),
            "handout": lambda pupil: self._page(partial(actions.practice_page, pupil)),
            "parents sheet": lambda pupil: self._page(partial(actions.parents_page, pupil)),
            "export": self._export,
            "picture": self._picture,
            "forget": self._forget,
        }
        self._uses_without_pupil: dict[str, Callable[[], bool]] = {
            "new pupil": flow.add_pupil,
            "review all": lambda: self._page(actions.studio_page),
            "gather": self._take_in,
            "questions": lambda: self._page(actions.questions_page),
            "demonstrate": self._demonstrate,
        }

    def work(self) -> bool:
        """Show the teacher's page until it is left."""
        nickname = latest_nickname(self._flow.studio)
        while True:
            marks = self._flow.marks()
            nickname = nickname if nickname in marks else next(iter(marks), "")
            days = days_of_practice(self._flow.studio)
            practised = {name: short_day_of(day) for name, day in days.items()}
            page = TeacherPage(marks, nickname, self._flow.piano_name, practised)
            if not self._flow.show(page):
                return False
            if page.chosen is None:
                return True
            nickname = page.pupil
            if not self._flow.safely(partial(self._do, page.chosen, nickname)):
                return False

    def _do(self, use: str, nickname: str) -> bool:
        self._title = words_of(use)
        if use in self._uses_without_pupil:
            return self._uses_without_pupil[use]()
        return self._uses[use](known_pupil(nickname, self._flow.studio))

    def _prior_knowledge(self, pupil: Pupil) -> bool:
        landmarks = self._flow.context(pupil).landmarks
        while True:
            page = prior_knowledge_scene(pupil, landmarks, SessionClock().now, listens=True)
            if not self._flow.show(page):
                return False
            if not page.to_listen:
                return True
            if not self._flow.listen(pupil):
                return False

    def _picture(self, pupil: Pupil) -> bool:
        others = {name: mark for name, mark in self._flow.marks().items() if name != pupil.nickname}
        page = PicturePage(pupil.nickname, set(others.values()))
        if not self._flow.show(page):
            return False
        if page.chosen is not None:
            keep_mark(pupil, page.chosen[1])
        return True

    def _spot(self, pupil: Pupil) -> bool:
        pages = self._flow.spotting_pages(pupil, NOTES_OF_THE_WEEK)
        return self._flow.spot(pupil, pages, SPOTTING_MINUTES)

    def _read(self, pupil: Pupil) -> bool:
        lines = self._reading.lines(pupil, LINES_OF_THE_WEEK)
        return self._reading.read(pupil, lines, LINES_OF_THE_WEEK.hands, READING_MINUTES)

    def _play(self, pupil: Pupil) -> bool:
        score = self._chosen_file(_("which piece?"), ENDINGS)
        if score is None:
            return self._flow.is_open
        lines = self._worked_out(lambda _progress: self._reading.lines_of_piece(score))
        return self._flow.is_open if lines is None else self._reading.play_to(pupil, lines)

    # Pages that are opened in the browser

    def _page(self, make: Callable[[Progress], Path]) -> bool:
        path = self._worked_out(make)
        return self._flow.is_open if path is None else self._opened(path)

    def _piece(self, pupil: Pupil) -> bool:
        score = self._chosen_file(_("which piece?"), ENDINGS)
        if score is None:
            return self._flow.is_open
        tunes = self._worked_out(lambda _progress: [tune.title for tune in read_piece(score)])
        tune = self._tune(tunes, score.name) if tunes and len(tunes) > 1 else 1
        if tunes is None or tune is None:
            return self._flow.is_open
        made = self._worked_out(partial(self._actions.piece_page, pupil, score, tune))
        if made is None:
            return self._flow.is_open
        if not self._opened(made.path, (_PLAN, _("put it into the home plan"))):
            return False
        return self._answer != _PLAN or self._tell(score.name, [made.put_into_plan()])

    def _tune(self, tunes: list[str], file: str) -> int | None:
        """Ask which of several tunes is meant; return its number, from 1, None without one."""
        numbered = [f"{number}  {title}" for number, title in enumerate(tunes, 1)]
        page = ListPage(_("which tune?"), file, numbered)
        self._flow.show(page)
        return None if page.taken is None else page.taken + 1

    def _pieces(self, pupil: Pupil) -> bool:
        shelf = self._chosen_file(_("in which folder are the scores?"), ENDINGS, folder=True)
        if shelf is None:
            return self._flow.is_open
        folder = shelf if shelf.is_dir() else shelf.parent
        return self._page(partial(self._actions.shelf_page, pupil, folder))

    def _opened(self, path: Path, *answers: tuple[str, str]) -> bool:
        """Open a page in the browser; tell where it lies."""
        if webbrowser.open(path.as_uri()):
            told = [_("The page opens in your browser, where it can be printed.")]
        else:
            told = [_("Open this page in your browser:")]
        return self._tell(self._title, [*told, str(path)], *answers)

    # What is told in the window

    def _take_in(self) -> bool:
        title = _("which files, or which folder of them?")
        place = self._chosen_file(title, IMPORTED, folder=True)
        if place is None:
            return self._flow.is_open
        return self._told(partial(self._actions.take_in, place), place.name)

    def _export(self, pupil: Pupil) -> bool:
        return self._told(partial(self._actions.export, pupil), pupil.nickname)

    def _forget(self, pupil: Pupil) -> bool:
        title = _("remove {name} for good?").format(name=pupil.nickname)
        told = [f"{list_files(pupil)}: {pupil.folder}", _("It cannot be brought back.")]
        answers = (_KEEP, _("keep")), (_REMOVE, _("remove"))
        if not self._ask(title, told, *answers):
            return False
        if self._answer != _REMOVE:
            return True
        return self._told(lambda _progress: forget_pupil(pupil), pupil.nickname)

    def _demonstrate(self) -> bool:
        with tempfile.TemporaryDirectory() as folder:
            prepared = prepare_demonstration(
                Path(folder), self._flow.context(None), self._flow.seed
            )
            try:
                return show_demonstration(prepared, self._flow.screen)
            finally:
                prepared.recorder.close()

    def _told(self, work: Callable[[Progress], list[str]], title: str) -> bool:
        sentences = self._worked_out(work)
        return self._flow.is_open if sentences is None else self._tell(title, sentences)

    def _tell(self, title: str, sentences: Iterable[str], *answers: tuple[str, str]) -> bool:
        return self._ask(title, sentences, (_DONE, _("done")), *answers)

    def _ask(self, title: str, sentences: Iterable[str], *answers: tuple[str, str]) -> bool:
        page = MessagePage(title, list(sentences), answers)
        still_open = self._flow.show(page)
        self._answer = page.chosen
        return still_open

    def _chosen_file(
        self, title: str, endings: tuple[str, ...], folder: bool = False
    ) -> Path | None:
        page = FilesPage(title, self._folder, endings, folder)
        self._flow.show(page)
        if page.chosen is not None:
            self._folder = page.chosen if page.chosen.is_dir() else page.chosen.parent
        return page.chosen

    def _worked_out(self, work: Callable[[Progress], Value]) -> Value | None:
        """Work in a thread of its own while a page asks for patience; None if nobody waited.

        What ended the work otherwise is raised here.
        """
        page = WaitingPage(work)
        self._flow.show(page)
        if page.outcome is None:
            return None
        if isinstance(page.outcome, Failed):
            raise _as_exception(page.outcome.error)
        return page.outcome.value


def _as_exception(error: BaseException) -> Exception:
    """Return what can be told in the window: nothing that ends a worker ends the window."""
    if isinstance(error, Exception):
        return error
    fault = RuntimeError(type(error).__name__)
    return fault.with_traceback(error.__traceback__)
