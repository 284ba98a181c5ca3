"""Options that several commands share, and what they stand for."""

from __future__ import annotations

import argparse
from datetime import datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

from drills.app.practice_context import PracticeOptions
from drills.app.seeds import SEEDS, new_seed
from drills.app.studio_defaults import studio_at
from drills.storage.studio import Studio, default_folder
from landmarks.names import NAMINGS, usual_naming
from landmarks.sets import DEFAULT_SET, built_in_sets
from landmarks.translation import _

if TYPE_CHECKING:
    from drills.window.window_flow import WindowFlow

LONGEST_MINUTES = 60


_YEARS = range(1970, 3000)
"""Of the days that can be looked back to; every system's clock knows them."""


def add_music_options(parser: argparse.ArgumentParser) -> None:
    """Add what everything has that asks for notes: its set, staves, names and seed."""
    add_set_option(parser)
    parser.add_argument(
        "--grand", action="store_true", help=_("show both staves instead of the note's own")
    )
    parser.add_argument(
        "--names",
        choices=sorted(NAMINGS),
        help=_("how notes are named ({usual})").format(usual=usual_naming().name),
    )
    parser.add_argument("--seed", type=_seed, help=_("makes what is chosen repeatable"))


def add_drill_options(parser: argparse.ArgumentParser) -> None:
    """Add what every drill in a window has: its music and its size."""
    add_music_options(parser)
    add_screen_options(parser)


def add_screen_options(parser: argparse.ArgumentParser) -> None:
    """Add what every command has that opens a window: its size."""
    parser.add_argument(
        "--size", metavar=_("WIDTHxHEIGHT"), type=_size, help=_("window size in pixels")
    )
    parser.add_argument("--full-screen", action="store_true", help=_("fill the screen"))


def add_set_option(parser: argparse.ArgumentParser) -> None:
    """Add the option that names the landmark set."""
    parser.add_argument(
        "--set", metavar=_("NAME|FILE"),
        help=_("landmark set: {names}, or a TOML file ({usual})").format(
            names=", ".join(built_in_sets()), usual=DEFAULT_SET
        ),
    )  # fmt: skip


def add_studio_option(parser: argparse.ArgumentParser) -> None:
    """Add the option that names the studio folder."""
    parser.add_argument(
        "--studio", type=Path, metavar=_("FOLDER"),
        help=_("folder of pupils and session files ({folder})").format(folder=default_folder()),
    )  # fmt: skip


def add_readiness_options(parser: argparse.ArgumentParser) -> None:
    """Add what looks at scores with a pupil's eyes: whose, and on which day."""
    parser.add_argument(
        "--pupil", metavar=_("NICKNAME"), help=_("for this pupil (for nobody in particular)")
    )
    add_studio_option(parser)
    add_set_option(parser)
    add_day_option(parser)
    parser.add_argument(
        "--page", type=Path, metavar=_("FILE.html"), help=_("write a page to print")
    )
    parser.add_argument(
        "--json", type=Path, metavar=_("FILE.json"), help=_("write all of it as data")
    )


def add_day_option(parser: argparse.ArgumentParser) -> None:
    """Add the option that looks back to an earlier day."""
    parser.add_argument(
        "--on", type=day_of, metavar=_("DATE"), help=_("as of the evening of this day (now)")
    )


def day_of(text: str) -> datetime:
    """Read a date, for argparse."""
    try:
        day = datetime.fromisoformat(text)
        if day.year not in _YEARS:
            raise ValueError(text)
        return day.astimezone()
    except ValueError:
        raise argparse.ArgumentTypeError(
            _("{text!r} is not a date such as 2026-03-31").format(text=text)
        ) from None


def moment_of(arguments: argparse.Namespace) -> datetime:
    """Return the evening of the day asked for, or now."""
    if arguments.on is None:
        return datetime.now().astimezone()
    return datetime.combine(arguments.on, time.max).astimezone()


def studio_of(arguments: argparse.Namespace) -> Studio:
    """Return the studio that the options name."""
    return studio_at(arguments.studio)


def seed_of(arguments: argparse.Namespace) -> int:
    """Return the seed asked for, or a new one."""
    return new_seed() if arguments.seed is None else int(arguments.seed)


def practice_options(arguments: argparse.Namespace) -> PracticeOptions:
    """Return what the options say of set, names and staves, as far as the command has them."""
    names, grand = getattr(arguments, "names", None), getattr(arguments, "grand", False)
    return PracticeOptions(arguments.set, names, grand)


def open_window(arguments: argparse.Namespace) -> WindowFlow:
    """Return the window that the options ask for, to be entered."""
    from drills.window.window_flow import WindowFlow, WindowOptions

    return WindowFlow(
        studio_of(arguments),
        practice_options(arguments),
        seed_of(arguments),
        WindowOptions(arguments.size, arguments.full_screen),
    )


def _seed(text: str) -> int:
    if not (text.isdecimal() and len(text) <= len(str(SEEDS)) and int(text) < SEEDS):
        raise argparse.ArgumentTypeError(
            _("{text!r} is not a whole number from 0 to {most}").format(text=text, most=SEEDS - 1)
        )
    return int(text)


def _size(text: str) -> tuple[int, int]:
    width, _by, height = text.lower().partition("x")
    if not (width.isdecimal() and height.isdecimal() and len(text) <= len("16384x16384")):
        raise argparse.ArgumentTypeError(
            _("{text!r} is not a size such as 1024x768").format(text=text)
        )
    size = int(width), int(height)
    if not (320 <= size[0] <= 16384 and 240 <= size[1] <= 16384):
        raise argparse.ArgumentTypeError(
            _("{text} is not between 320x240 and 16384x16384").format(text=text)
        )
    return size


def add_minutes_option(parser: argparse.ArgumentParser, usual: int) -> None:
    """Add how long a session lasts, `usual` minutes unless something else is said."""
    parser.add_argument(
        "--minutes", type=_minutes, default=usual,
        help=_("how long, 1 to {longest} ({minutes})").format(
            longest=LONGEST_MINUTES, minutes=usual
        ),
    )  # fmt: skip


def _minutes(text: str) -> int:
    if not (text.isdecimal() and len(text) <= 2 and 1 <= int(text) <= LONGEST_MINUTES):
        raise argparse.ArgumentTypeError(
            _("{text!r} is not a whole number from 1 to {longest_minutes}").format(
                text=text, longest_minutes=LONGEST_MINUTES
            )
        )
    return int(text)
