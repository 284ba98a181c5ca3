"""`landmark-drills spot`: find every treble G in a line of music."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from drills.commands.options import add_drill_options, add_studio_option, pupil_of
from drills.commands.sitting import Sitting, only_pupil
from drills.commands.what_to_find import add_find_options, pages_of, questions_of
from drills.sessions.spotting.pages import Page
from drills.storage.studio import Pupil
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Open the window on a line of music and find notes in it: touch or click every treble G, or play
its key, which marks the next one from left to right. The line comes from a score, a few bars at a
time, or is invented from the landmarks of the week.

keys: Escape ends the session and then closes the window; the up arrow points at the next note.
""")
MINUTES = 4
LONGEST_MINUTES = 60


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("who looks for notes (the only pupil there is)")
    )
    add_studio_option(parser)
    add_find_options(parser)
    parser.add_argument(
        "--minutes", type=_minutes, default=MINUTES,
        help=_("how long, 1 to {longest} ({minutes})").format(
            longest=LONGEST_MINUTES, minutes=MINUTES
        ),
    )  # fmt: skip
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Look for notes until the window is closed."""
    sitting = Sitting(arguments)
    pupil = pupil_of(arguments.pupil or only_pupil(sitting.studio), sitting.studio)
    pages = _pages(arguments, sitting, pupil)
    with sitting:
        sitting.spot(pupil, pages, arguments.minutes)
    return 0


def spot(sitting: Sitting, pupil: Pupil) -> bool:
    """Look for the notes of the week in invented lines; False if the window was closed."""
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    arguments = parser.parse_args(sitting.music_words())
    return sitting.spot(pupil, _pages(arguments, sitting, pupil), MINUTES)


def _pages(arguments: argparse.Namespace, sitting: Sitting, pupil: Pupil) -> Iterator[Page]:
    music = sitting.music(pupil)
    questions = questions_of(arguments, pupil, music)
    return pages_of(arguments, questions, music, sitting.seed)


def _minutes(text: str) -> int:
    if not (text.isdecimal() and len(text) <= 2 and 1 <= int(text) <= LONGEST_MINUTES):
        raise argparse.ArgumentTypeError(
            _("{text!r} is not a whole number from 1 to {longest_minutes}").format(
                text=text, longest_minutes=LONGEST_MINUTES
            )
        )
    return int(text)
