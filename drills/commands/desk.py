"""The teacher's page at work: every command of the command line, done in the open window."""

from __future__ import annotations

import io
import tempfile
import webbrowser
from collections.abc import Callable, Iterable
from contextlib import redirect_stdout
from datetime import date
from functools import partial
from pathlib import Path

import platformdirs

from drills.commands.beginnings import beginnings_scene
from drills.commands.demonstrate import watch
from drills.commands.everybody import marks_in
from drills.commands.output import kept_in
from drills.commands.refusal import Refusal
from drills.commands.settings import settings_scene
from drills.commands.sitting import Sitting
from drills.commands.spot import spot
from drills.storage.files import make_private
from drills.storage.import_files import ENDINGS as GATHERED
from drills.storage.pupil_export import belongings
from drills.storage.recorder import RecordingError
from drills.storage.studio import Pupil
from landmarks.score.files import ENDINGS
from landmarks.translation import _

PAGES = "pages"
"""Where the pages that are made for a pupil lie in her folder."""
_DONE, _PLAN, _KEEP, _REMOVE = "done", "plan", "keep", "remove"


class Desk:
    """What the teacher's page leads to. Whatever cannot be done is told, and the page returns."""

    def __init__(self, sitting: Sitting, run_command: Callable[[list[str]], int]) -> None:
        """Work in the window of `sitting`; `run_command` runs the words of a command line."""
        self._sitting = sitting
        self._run_command = run_command
        self._folder = Path.home()
        self._answer: str | None = None
        self._title = ""
        self._uses: dict[str, Callable[[Pupil], bool]] = {
            "warm-up": sitting.warm_up,
            "spot": lambda pupil: spot(sitting, pupil),
            "piece": self._piece,
            "pieces": self._pieces,
            "beginnings": self._beginnings,
            "settings": lambda pupil: sitting.show(settings_scene(pupil)),
            "review": self._review,
            "handout": self._handout,
            "parents sheet": self._parents_sheet,
            "export": self._export,
            "forget": self._forget,
        }
        self._uses_without_pupil: dict[str, Callable[[], bool]] = {
            "new pupil": sitting.add_pupil,
            "review all": self._review_all,
            "gather": self._gather,
            "questions": self._questions,
            "demonstrate": self._demonstrate,
        }

    def work(self) -> bool:
        """Show the teacher's page until it is left; False if the window was closed."""
        from drills.window.pages.teacher_page import TeacherPage  # noqa: PLC0415

        nickname = self._latest()
        while True:
            marks = marks_in(self._sitting.studio)
            nickname = nickname if nickname in marks else next(iter(marks), "")
            page = TeacherPage(marks, nickname, self._sitting.piano_name)
            if not self._sitting.show(page):
                return False
            if page.chosen is None:
                return True
            nickname = page.pupil
            if not self.safely(partial(self._do, page.chosen, nickname)):
                return False

    def safely(self, use: Callable[[], bool]) -> bool:
        """Do something; tell what kept it from being done. False if the window was closed."""
        try:
            return use()
        except (Refusal, RecordingError) as refusal:
            return self._tell(_("that did not work"), [str(refusal)])

    def _do(self, use: str, nickname: str) -> bool:
        from drills.window.pages.teacher_page import words_of  # noqa: PLC0415

        self._title = words_of(use)
        if use in self._uses_without_pupil:
            return self._uses_without_pupil[use]()
        return self._uses[use](self._sitting.studio.known_pupil(nickname))

    def _latest(self) -> str:
        """Give the nickname of whoever practised last, or "" if nobody did."""
        latest = ((files[-1].name, pupil.nickname) for pupil in self._sitting.studio.pupils()
                  if (files := pupil.session_files()))  # fmt: skip
        return max(latest, default=("", ""))[1]

    def _beginnings(self, pupil: Pupil) -> bool:
        landmarks = self._sitting.music(pupil).landmarks
        return self._sitting.show(beginnings_scene(pupil, landmarks))

    # Pages that are opened in the browser

    def _review(self, pupil: Pupil) -> bool:
        return self._page(pupil, "review", ["review", *self._whose(pupil)], "--page")

    def _parents_sheet(self, pupil: Pupil) -> bool:
        return self._page(pupil, "for-parents", ["review", *self._whose(pupil)], "--sheet")

    def _handout(self, pupil: Pupil) -> bool:
        path = _pages_of(pupil) / "practice-sheet.html"
        words = ["handout", str(path), *self._whose(pupil), *self._sitting.music_words()]
        return self._opened(words, path)

    def _review_all(self) -> bool:
        path = self._sitting.studio.folder / "everybody.html"
        return self._opened(["review", *self._where(), "--page", str(path)], path)

    def _questions(self) -> bool:
        path = self._sitting.studio.folder / "questions-for-parents.html"
        return self._opened(["beginnings", *self._where(), "--sheet", str(path)], path)

    def _piece(self, pupil: Pupil) -> bool:
        score = self._chosen_file(_("which piece?"), ENDINGS)
        if score is None:
            return self._sitting.is_open
        tune = self._tune(score)
        if tune is None:
            return self._sitting.is_open
        words = ["piece", str(score), *tune, *self._whose(pupil), *self._sitting.set_words()]
        if not self._page(pupil, "piece", words, "--page", (_PLAN, _("put it into the home plan"))):
            return False
        return self._answer != _PLAN or self._told([*words, "--plan"], score.name)

    def _tune(self, score: Path) -> list[str] | None:
        """Ask which of several tunes is meant; give the option, None if none is chosen."""
        from drills.window.pages.list_page import ListPage  # noqa: PLC0415

        tunes = self._worked_out(["piece", str(score), "--tunes"])
        if tunes is None:
            return None
        if len(tunes) < 2:
            return []
        numbered = [f"{number}  {title}" for number, title in enumerate(tunes, 1)]
        page = ListPage(_("which tune?"), score.name, numbered)
        self._sitting.show(page)
        return None if page.taken is None else ["--tune", str(page.taken + 1)]

    def _pieces(self, pupil: Pupil) -> bool:
        shelf = self._chosen_file(_("in which folder are the scores?"), ENDINGS, folder=True)
        if shelf is None:
            return self._sitting.is_open
        folder = shelf if shelf.is_dir() else shelf.parent
        words = ["pieces", str(folder), *self._whose(pupil), *self._sitting.set_words()]
        return self._page(pupil, "shelf", words, "--page")

    def _page(
        self,
        pupil: Pupil,
        name: str,
        words: list[str],
        option: str,
        *answers: tuple[str, str],
    ) -> bool:
        path = _pages_of(pupil) / f"{name}.html"
        return self._opened([*words, option, str(path)], path, *answers)

    def _opened(self, words: list[str], path: Path, *answers: tuple[str, str]) -> bool:
        """Make a page and open it in the browser; tell where it lies."""
        lines = self._worked_out(words)
        if lines is None:
            return self._sitting.is_open
        if lines[-1:] != [str(path)]:
            return self._tell(_("that did not work"), lines)
        if webbrowser.open(path.as_uri()):
            told = [_("The page opens in your browser, where it can be printed.")]
        else:
            told = [_("Open this page in your browser:")]
        return self._tell(self._title, [*told, str(path)], *answers)

    # What is told in the window

    def _gather(self) -> bool:
        title = _("which files, or which folder of them?")
        place = self._chosen_file(title, GATHERED, folder=True)
        if place is None:
            return self._sitting.is_open
        return self._told(["gather", str(place), *self._where()], place.name)

    def _export(self, pupil: Pupil) -> bool:
        folder = Path(platformdirs.user_documents_dir())
        folder = folder if folder.is_dir() else Path.home()
        path = folder / f"{pupil.nickname} {date.today():%Y-%m-%d}.zip"
        return self._told(["export", pupil.nickname, str(path), *self._where()], pupil.nickname)

    def _forget(self, pupil: Pupil) -> bool:
        title = _("remove {name} for good?").format(name=pupil.nickname)
        told = [f"{belongings(pupil)}: {pupil.folder}", _("It cannot be brought back.")]
        answers = (_KEEP, _("keep")), (_REMOVE, _("remove"))
        if not self._ask(title, told, *answers):
            return False
        if self._answer != _REMOVE:
            return True
        return self._told(["forget", pupil.nickname, "--yes", *self._where()], pupil.nickname)

    def _demonstrate(self) -> bool:
        with tempfile.TemporaryDirectory() as folder:
            return watch(self._sitting, Path(folder))

    def _told(self, words: list[str], title: str) -> bool:
        lines = self._worked_out(words)
        return self._sitting.is_open if lines is None else self._tell(title, lines)

    def _tell(self, title: str, sentences: Iterable[str], *answers: tuple[str, str]) -> bool:
        return self._ask(title, sentences, (_DONE, _("done")), *answers)

    def _ask(self, title: str, sentences: Iterable[str], *answers: tuple[str, str]) -> bool:
        from drills.window.pages.message_page import TellingPage  # noqa: PLC0415

        page = TellingPage(title, list(sentences), answers)
        still_open = self._sitting.show(page)
        self._answer = page.chosen
        return still_open

    def _chosen_file(
        self, title: str, endings: tuple[str, ...], folder: bool = False
    ) -> Path | None:
        from drills.window.pages.files_page import FilesPage  # noqa: PLC0415

        page = FilesPage(title, self._folder, endings, folder)
        self._sitting.show(page)
        if page.chosen is not None:
            self._folder = page.chosen if page.chosen.is_dir() else page.chosen.parent
        return page.chosen

    # Commands

    def _worked_out(self, words: list[str]) -> list[str] | None:
        """Run a command and give what it says; None if nobody waited for it."""
        from drills.window.pages.waiting import WaitingPage  # noqa: PLC0415

        def work() -> list[str]:
            said = io.StringIO()
            try:
                with redirect_stdout(said):
                    self._run_command(words)
            except (Refusal, RecordingError) as refusal:
                return [str(refusal)]
            return said.getvalue().splitlines()

        page = WaitingPage(work)
        return page.outcome if self._sitting.show(page) else None

    def _where(self) -> list[str]:
        return ["--studio", str(self._sitting.studio.folder)]

    def _whose(self, pupil: Pupil) -> list[str]:
        return ["--pupil", pupil.nickname, *self._where()]


def _pages_of(pupil: Pupil) -> Path:
    folder = pupil.folder / PAGES
    with kept_in(pupil.folder, _("a page")):
        make_private(folder)
    return folder
