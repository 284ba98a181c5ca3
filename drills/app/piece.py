"""What a pupil must read in a piece or on a shelf of them, and what to practise for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import count
from pathlib import Path

from drills.app.output import writing_into
from drills.app.practice_context import PracticeContext
from drills.app.progress import UNWATCHED, CancelledError, Progress
from drills.app.user_error import UserError
from drills.cards.card import Card
from drills.reports.piece_music import piece_music
from drills.reports.piece_page import report_page
from drills.reports.piece_tables import json_of
from drills.reports.piece_text import piece_parts, piece_title, shelf_parts, shelf_title
from drills.reports.terminal import Table, report
from drills.scores.knowledge import Knowledge
from drills.scores.readiness import Readiness
from drills.scores.reading import read_each
from drills.scores.shelf import Shelf, ShelfPiece, ranked, read_shelf, scores_in
from drills.scores.week import cards_for_the_week, plan_with_piece
from drills.storage.plan import HomePlan, plan_of, write_plan
from drills.storage.studio import Pupil
from drills.text.printable import printable
from landmarks.score import Score, ScoreError
from landmarks.score.files import ENDINGS
from landmarks.translation import _


@dataclass(frozen=True)
class PieceReport:
    """What must be read in a piece, by whom (None: by nobody in particular), and this week."""

    path: Path
    tune: int | None
    """Counted from 1, None in a file of one."""
    pupil: Pupil | None
    piece: Readiness
    week: tuple[Card, ...]
    knowledge: Knowledge

    def lines(self) -> Iterable[str]:
        """Return the report as lines of a terminal."""
        return report(piece_title(self.piece), self._parts())

    def page(self) -> str:
        """Return the report as a web page to print."""
        music = piece_music(self.path, self.tune, self.piece)
        return report_page(piece_title(self.piece), self._parts(), music)

    def json(self) -> str:
        """Return all of it as JSON."""
        return json_of([(ShelfPiece(printable(self.path.name), self.piece), self.week)])

    def _parts(self) -> Iterable[str | Table]:
        nickname = self.pupil.nickname if self.pupil else None
        return piece_parts(self.piece, nickname, self.week)


@dataclass(frozen=True)
class ShelfReport:
    """A shelf of pieces, ranked by how ready a pupil is for each."""

    shelf: Shelf
    pupil: Pupil | None

    def lines(self) -> Iterable[str]:
        """Return the report as lines of a terminal."""
        return report(self._title(), shelf_parts(self.shelf))

    def page(self) -> str:
        """Return the report as a web page to print."""
        return report_page(self._title(), shelf_parts(self.shelf))

    def json(self) -> str:
        """Return all of it as JSON."""
        return json_of(
            [(piece, cards_for_the_week(piece.readiness)) for piece in self.shelf.pieces]
        )

    def _title(self) -> str:
        return shelf_title(self.shelf, self.pupil.nickname if self.pupil else None)


def read_piece(path: Path) -> Sequence[Score]:
    """Return the tunes of a file.

    Raises:
        UserError: it cannot be read.
    """
    ((_path, scores),) = read_each([path])
    if isinstance(scores, ScoreError):
        raise UserError(scores)
    return [_written(score) for score in scores]


def report_piece(
    path: Path, tune: int | None, pupil: Pupil | None, context: PracticeContext, now: datetime
) -> PieceReport:
    """Tell what must be read in a piece at `now`; `tune` counts from 1 in a file of several.

    Raises:
        UserError: the file cannot be read, or holds no such tune.
    """
    score = _tune(path, tune)
    knowledge = _knowledge([score], pupil, context, now)
    piece = knowledge.readiness(score)
    return PieceReport(path, tune, pupil, piece, cards_for_the_week(piece), knowledge)


def put_into_plan(told: PieceReport, pupil: Pupil, made: datetime) -> tuple[HomePlan, Path]:
    """Put the week's cards of a piece first into a pupil's home plan; return it and its file.

    Raises:
        PlanError: the plan that is there was damaged, or none can be made.
        UserError: it cannot be written.
    """
    plan = plan_with_piece(
        pupil.nickname, made, told.week, plan_of(pupil), told.piece, told.knowledge.standing
    )
    with writing_into(pupil.folder, _("the home plan")):
        return plan, write_plan(plan, pupil.folder)


def plan_sentence(plan: HomePlan, path: Path) -> str:
    """Say what a home plan holds and where it lies."""
    return _("The home plan, {count} cards, {minutes} minutes a day: {path}").format(
        count=len(plan.cards), minutes=plan.minutes, path=path
    )


def report_shelf(
    folder: Path,
    pupil: Pupil | None,
    context: PracticeContext,
    now: datetime,
    progress: Progress = UNWATCHED,
) -> ShelfReport:
    """Rank the scores in a folder; files that cannot be read are named at its end.

    If it is stopped, what was read until then is ranked.

    Raises:
        UserError: there is no such folder, or it holds no scores.
        CancelledError: it was stopped before anything was read.
    """
    paths = _scores_in(folder)
    found, unreadable, waiting = read_shelf(paths, folder, _going_on(progress, len(paths)))
    if waiting and not found:
        raise CancelledError(_("stopped; nothing was written"))
    scores = {printable(name): _written(score) for name, score in found.items()}
    knowledge = _knowledge(scores.values(), pupil, context, now)
    pieces = ranked(ShelfPiece(name, knowledge.readiness(score)) for name, score in scores.items())
    return ShelfReport(Shelf(pieces, unreadable, waiting), pupil)


def _going_on(progress: Progress, files: int) -> Callable[[], bool]:
    """Return what reports each file that was read, and tells whether to read another."""
    done = count(1)

    def go_on() -> bool:
        progress.report(next(done), files)
        return not progress.cancelled.is_set()

    return go_on


def _knowledge(
    scores: Iterable[Score], pupil: Pupil | None, context: PracticeContext, now: datetime
) -> Knowledge:
    history = pupil.responses() if pupil else None
    return Knowledge(
        scores, context.landmarks, now, history, context.fluency, context.prior_knowledge
    )


def _written(score: Score) -> Score:
    """Return a score whose title can be written down: it may be a file's name that is no text."""
    return replace(score, title=printable(score.title))


def _tune(path: Path, tune: int | None) -> Score:
    scores = read_piece(path)
    if tune is None and len(scores) > 1:
        raise UserError(
            _("{path} holds {count} tunes; name one with --tune 1 to {count}").format(
                path=path, count=len(scores)
            )
        )
    number = 1 if tune is None else tune
    if not 1 <= number <= len(scores):
        raise UserError(
            _("{path} holds no tune {number}; name one from 1 to {count}").format(
                path=path, number=number, count=len(scores)
            )
        )
    if not scores[number - 1].notes:
        raise UserError(
            _("{path}: tune {number} holds no notes to be read; choose another").format(
                path=path, number=number
            )
        )
    return scores[number - 1]


def _scores_in(folder: Path) -> list[Path]:
    if not folder.is_dir():
        raise UserError(
            _("{folder}: there is no such folder; check its name").format(folder=folder)
        )
    paths = scores_in(folder)
    if not paths:
        raise UserError(
            _("{folder} holds no scores; they end in {names}").format(
                folder=folder, names=", ".join(ENDINGS)
            )
        )
    return paths
