"""`landmark-drills piece`: what a pupil must read in a piece, and what to practise for it."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from drills.cards.card import Card
from drills.commands.music import music_of
from drills.commands.options import add_readiness_options, known_pupil, moment_of, studio_of
from drills.commands.output import kept_in, print_lines, write_file
from drills.commands.refusal import Refusal
from drills.reports.piece_music import piece_music
from drills.reports.piece_page import report_page
from drills.reports.piece_tables import json_of
from drills.reports.piece_text import piece_parts, piece_title
from drills.reports.terminal import prose, report
from drills.scores.knowledge import Knowledge
from drills.scores.readiness import Readiness
from drills.scores.reading import read_each
from drills.scores.shelf import ShelfPiece
from drills.scores.week import cards_for_the_week, plan_with_piece
from drills.storage.plan import PlanError, plan_of, write_plan
from drills.storage.studio import Pupil
from landmarks.score import Score, ScoreError
from landmarks.score.files import READABLE
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Tell what must be read in a piece: every note by hand and clef, its nearest landmark and distance,
how much of it the pupil has secured, and what to practise for it this week. Without a pupil the
landmarks themselves count as secured. It reads {formats}.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.description = _(DESCRIPTION).format(formats=_(READABLE))
    parser.add_argument("file", type=Path, metavar=_("FILE"), help=_("the score"))
    add_readiness_options(parser)
    parser.add_argument(
        "--tunes", action="store_true", help=_("only list the tunes of the file, one a line")
    )
    parser.add_argument("--tune", type=int, metavar=_("NUMBER"), help=_("which tune of several"))
    parser.add_argument(
        "--plan", action="store_true", help=_("put the week's cards first in the pupil's home plan")
    )


def run(arguments: argparse.Namespace) -> int:
    """Tell of the piece, and write what is asked for."""
    if arguments.plan and arguments.pupil is None:
        raise Refusal(_("a home plan is for one pupil; add --pupil and a nickname"))
    if arguments.tunes:
        print_lines(score.title for score in _scores(arguments.file))
        return 0
    pupil = known_pupil(arguments.pupil, studio_of(arguments)) if arguments.pupil else None
    nickname = pupil.nickname if pupil else None
    known = music_of(arguments, pupil)
    score = _score(arguments.file, arguments.tune)
    now = moment_of(arguments)
    knowledge = Knowledge(
        [score],
        known.landmarks,
        now,
        pupil.responses() if pupil else None,
        known.settings.fluency,
        known.brought,
    )
    piece = knowledge.readiness(score)
    week = cards_for_the_week(piece)
    if arguments.json:
        write_file(arguments.json, json_of([(ShelfPiece(arguments.file.name, piece), week)]))
    title, parts = piece_title(piece), piece_parts(piece, nickname, week)
    if arguments.page:
        music = piece_music(arguments.file, arguments.tune, piece)
        write_file(arguments.page, report_page(title, parts, music))
    elif not arguments.json:
        print_lines(report(title, parts))
        if week and not arguments.plan:
            print_lines(
                prose(
                    _("--pupil {nickname} --plan puts them first into the home plan.").format(
                        nickname=nickname or _("NICKNAME")
                    )
                )
            )
    if arguments.plan and pupil:
        print(_put_into_plan(pupil, week, piece, knowledge))
    return 0


def _scores(path: Path) -> Sequence[Score]:
    ((_path, scores),) = read_each([path])
    if isinstance(scores, ScoreError):
        raise Refusal(scores)
    return scores


def _score(path: Path, tune: int | None) -> Score:
    scores = _scores(path)
    if tune is None and len(scores) > 1:
        raise Refusal(
            _("{path} holds {count} tunes; name one with --tune 1 to {count}").format(
                path=path, count=len(scores)
            )
        )
    number = 1 if tune is None else tune
    if not 1 <= number <= len(scores):
        raise Refusal(
            _("{path} holds no tune {number}; name one from 1 to {count}").format(
                path=path, number=number, count=len(scores)
            )
        )
    if not scores[number - 1].notes:
        raise Refusal(
            _("{path}: tune {number} holds no notes to be read; choose another").format(
                path=path, number=number
            )
        )
    return scores[number - 1]


def _put_into_plan(
    pupil: Pupil, week: tuple[Card, ...], piece: Readiness, knowledge: Knowledge
) -> str:
    made = datetime.now().astimezone()
    try:
        plan = plan_with_piece(
            pupil.nickname, made, week, plan_of(pupil), piece, knowledge.standing
        )
    except PlanError as error:
        raise Refusal(error) from None
    with kept_in(pupil.folder, _("the home plan")):
        path = write_plan(plan, pupil.folder)
    return f"The home plan, {len(plan.cards)} cards, {plan.minutes} minutes a day: {path}"
