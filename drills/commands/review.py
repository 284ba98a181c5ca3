"""`landmark-drills review`: what the session files say, for the teacher and the parent."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from drills.commands.options import (
    add_day_option,
    add_studio_option,
    day_of,
    known_pupil,
    moment_of,
    studio_of,
)
from drills.commands.output import print_lines, write_file
from drills.commands.progress import ProgressBar
from drills.commands.refusal import Refusal
from drills.commands.usable import usable_beginnings, usable_settings
from drills.reports.parent_sheet import parents_sheet
from drills.reports.pupil_page import pupil_page
from drills.reports.review_tables import csv_of, json_of
from drills.reports.review_text import pupil_lines, studio_lines
from drills.reports.studio_page import studio_page
from drills.review.each_pupil import SessionFiles, review_pupils
from drills.review.pupil import PupilReview
from drills.review.whole_studio import review_studio
from drills.storage.studio import Pupil, Studio
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Review one pupil, or the whole studio if none is named. Without a file option the review is
printed; with one, it is written to that file.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("review this pupil (the whole studio)")
    )
    add_studio_option(parser)
    parser.add_argument(
        "--page", type=Path, metavar=_("FILE.html"), help=_("write a page to print")
    )
    parser.add_argument("--csv", type=Path, metavar=_("FILE.csv"), help=_("write a table of notes"))
    parser.add_argument(
        "--json", type=Path, metavar=_("FILE.json"), help=_("write all of it as data")
    )
    parser.add_argument(
        "--sheet",
        type=Path,
        metavar=_("FILE.html"),
        help=_("write the parent's sheet of one pupil"),
    )
    parser.add_argument(
        "--since",
        type=day_of,
        metavar=_("DATE"),
        help=_("when the last lesson was (the last warm-up, or else a week ago)"),
    )
    add_day_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Review, and print or write what is asked for."""
    studio = studio_of(arguments)
    pupils = _pupils(studio, arguments.pupil)
    if arguments.sheet and not arguments.pupil:
        raise Refusal(_("a parent's sheet is about one pupil; add --pupil and a nickname"))
    now = moment_of(arguments)
    if arguments.since and arguments.since > now:
        raise Refusal(
            _("--since {since:%Y-%m-%d} lies ahead; give a day that has been").format(
                since=arguments.since
            )
        )
    reviews = _reviews(pupils, now, arguments.since)
    if arguments.pupil:
        shown, page = pupil_lines(reviews[0]), pupil_page
        written = _written(arguments, reviews, lambda: page(reviews[0]))
    else:
        whole = review_studio(reviews, now)
        shown = studio_lines(whole)
        written = _written(arguments, reviews, lambda: studio_page(whole))
    if not written:
        print_lines(shown)
    return 0


def _pupils(studio: Studio, nickname: str | None) -> list[Pupil]:
    if nickname is not None:
        return [known_pupil(nickname, studio)]
    pupils = studio.pupils()
    if not pupils:
        raise Refusal(
            _("{folder} holds no pupils; name another folder with --studio").format(
                folder=studio.folder
            )
        )
    return list(pupils)


def _reviews(pupils: list[Pupil], now: datetime, since: datetime | None) -> list[PupilReview]:
    files = [
        SessionFiles(
            pupil.nickname,
            tuple(pupil.session_files()),
            usable_settings(pupil).fluency,
            usable_beginnings(pupil),
        )
        for pupil in pupils
    ]
    with ProgressBar(_("reviewing"), sum(len(pupil.paths) for pupil in files)) as bar:
        return review_pupils(files, now, since, bar.advance)


def _written(
    arguments: argparse.Namespace, reviews: list[PupilReview], page: Callable[[], str]
) -> bool:
    """Write the files asked for; tell whether there was one."""
    forms: tuple[tuple[Path | None, Callable[[], str]], ...] = (
        (arguments.page, page),
        (arguments.csv, lambda: csv_of(reviews)),
        (arguments.json, lambda: json_of(reviews)),
        (arguments.sheet, lambda: parents_sheet(reviews[0])),
    )
    asked = [(path, form) for path, form in forms if path is not None]
    for path, form in asked:
        write_file(path, form())
    return bool(asked)
