"""What the teacher's page does: each action makes what is asked for and returns it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import platformdirs

from drills.app.file_import import take_in
from drills.app.output import write_text, writing_into
from drills.app.piece import (
    PieceReport,
    plan_sentence,
    put_into_plan,
    report_piece,
    report_shelf,
)
from drills.app.practice_context import PracticeOptions, practice_context
from drills.app.practice_sheet import practice_sheet
from drills.app.progress import Progress
from drills.app.pupil_files import export_pupil
from drills.app.review import review
from drills.app.seeds import new_seed
from drills.reports.parent_questions import parents_sheet
from drills.storage.files import make_private
from drills.storage.studio import Pupil, Studio
from landmarks.translation import _

PAGES = "pages"
"""Where the pages that are made for a pupil lie in her folder."""


@dataclass(frozen=True)
class PiecePage:
    """A page about a piece, and what its week would be in a home plan."""

    path: Path
    report: PieceReport
    pupil: Pupil

    def put_into_plan(self) -> str:
        """Put the week's cards first into the home plan, and say so.

        Raises:
            PlanError: the plan that is there was damaged.
            UserError: it cannot be written.
        """
        return plan_sentence(*put_into_plan(self.report, self.pupil, _now()))


@dataclass(frozen=True)
class TeacherActions:
    """The actions on the pupils of a studio, with what was asked for by hand.

    Each page is written for its owner's eyes only and its path returned; each action raises a
    `DrillsError` if it cannot be done.
    """

    studio: Studio
    options: PracticeOptions

    def review_page(self, pupil: Pupil, progress: Progress) -> Path:
        """Make the page of how a pupil's reading stands."""
        told = review(self.studio, pupil.nickname, _now(), progress=progress)
        return self._pupil_page(pupil, "review", told.page(), progress)

    def parents_page(self, pupil: Pupil, progress: Progress) -> Path:
        """Make the sheet for a pupil's parents."""
        told = review(self.studio, pupil.nickname, _now(), progress=progress)
        return self._pupil_page(pupil, "for-parents", told.parents_page(), progress)

    def practice_page(self, pupil: Pupil, progress: Progress) -> Path:
        """Make a pupil's practice sheet."""
        context = practice_context(pupil, self.options)
        sheet = practice_sheet(pupil, context, _now(), new_seed())
        return self._pupil_page(pupil, "practice-sheet", sheet, progress)

    def studio_page(self, progress: Progress) -> Path:
        """Make the page of everybody's reading."""
        told = review(self.studio, None, _now(), progress=progress)
        return _written(self.studio.folder / "everybody.html", told.page(), progress)

    def questions_page(self, progress: Progress) -> Path:
        """Make the sheet of questions that parents are asked."""
        path = self.studio.folder / "questions-for-parents.html"
        return _written(path, parents_sheet(), progress)

    def piece_page(
        self, pupil: Pupil, score: Path, tune: int | None, progress: Progress
    ) -> PiecePage:
        """Make the page of a piece; `tune` counts from 1 in a file of several."""
        context = practice_context(pupil, self._set_only())
        told = report_piece(score, tune, pupil, context, _now())
        return PiecePage(self._pupil_page(pupil, "piece", told.page(), progress), told, pupil)

    def shelf_page(self, pupil: Pupil, folder: Path, progress: Progress) -> Path:
        """Make the page of a shelf of pieces."""
        context = practice_context(pupil, self._set_only())
        told = report_shelf(folder, pupil, context, _now(), progress)
        return self._pupil_page(pupil, "shelf", told.page(), progress)

    def take_in(self, place: Path, progress: Progress) -> list[str]:
        """Take in a file, or a folder of them, and say what came of it."""
        return list(take_in([place], self.studio, progress).sentences())

    def export(self, pupil: Pupil, progress: Progress) -> list[str]:
        """Pack a pupil's files among the user's documents, and say so."""
        folder = Path(platformdirs.user_documents_dir())
        folder = folder if folder.is_dir() else Path.home()
        progress.check()
        path = folder / f"{pupil.nickname} {date.today():%Y-%m-%d}.zip"
        return export_pupil(pupil, path).sentences()

    def _set_only(self) -> PracticeOptions:
        return PracticeOptions(landmarks=self.options.landmarks)

    def _pupil_page(self, pupil: Pupil, name: str, content: str, progress: Progress) -> Path:
        folder = pupil.folder / PAGES
        with writing_into(pupil.folder, _("a page")):
            make_private(folder)
        return _written(folder / f"{name}.html", content, progress)


def _written(path: Path, content: str, progress: Progress) -> Path:
    progress.check()
    write_text(path, content)
    return path


def _now() -> datetime:
    return datetime.now().astimezone()
