"""`landmark-drills pieces`: a shelf of scores, ranked by how ready a pupil is for each."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.commands.music import music_of
from drills.commands.options import add_readiness_options, known_pupil, moment_of, studio_of
from drills.commands.output import print_lines, write_file
from drills.commands.progress import ProgressBar
from drills.commands.refusal import Refusal
from drills.reports.piece_page import report_page
from drills.reports.piece_tables import json_of
from drills.reports.piece_text import shelf_parts, shelf_title
from drills.reports.terminal import report
from drills.scores.knowledge import Knowledge
from drills.scores.shelf import Shelf, ShelfPiece, ranked, read_shelf, scores_in
from drills.scores.week import cards_for_the_week
from landmarks.score.files import ENDINGS
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Rank the scores in a folder, at any depth, by how ready a pupil is for each: how much of it is
secured or one step from it, what is to be learnt, range, leaps, hand positions, sharps and flats.
Without a pupil the landmarks themselves count as secured. Scores end in {endings}.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.description = _(DESCRIPTION).format(endings=", ".join(ENDINGS))
    parser.add_argument("folder", type=Path, metavar=_("FOLDER"), help=_("the shelf"))
    add_readiness_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Rank the shelf; files that cannot be read are named at its end."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments)) if arguments.pupil else None
    music = music_of(arguments, pupil)
    paths = _paths(arguments.folder)
    with ProgressBar(_("reading scores"), len(paths)) as bar:
        scores, unreadable = read_shelf(paths, arguments.folder, bar.advance)
    now = moment_of(arguments)
    knowledge = Knowledge(
        scores.values(), music.landmarks, now, pupil.responses() if pupil else None,
        music.settings.fluency, music.brought,
    )  # fmt: skip
    pieces = ranked(ShelfPiece(name, knowledge.readiness(score)) for name, score in scores.items())
    if arguments.json:
        told = [(piece, cards_for_the_week(piece.readiness)) for piece in pieces]
        write_file(arguments.json, json_of(told))
    shelf = Shelf(pieces, unreadable)
    title, parts = shelf_title(shelf, pupil.nickname if pupil else None), shelf_parts(shelf)
    if arguments.page:
        write_file(arguments.page, report_page(title, parts))
    elif not arguments.json:
        print_lines(report(title, parts))
    return 0


def _paths(folder: Path) -> list[Path]:
    if not folder.is_dir():
        raise Refusal(_("{folder}: there is no such folder; check its name").format(folder=folder))
    paths = scores_in(folder)
    if not paths:
        raise Refusal(
            _("{folder} holds no scores; they end in {names}").format(
                folder=folder, names=", ".join(ENDINGS)
            )
        )
    return paths
