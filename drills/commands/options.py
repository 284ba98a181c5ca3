"""Options that several commands share, and what they stand for."""

from __future__ import annotations

import argparse
import secrets
from datetime import datetime, time
from pathlib import Path

from drills.commands.refusal import Refusal
from drills.storage.files import LARGEST_SMALL_FILE, read_plain
from drills.storage.studio import Pupil, Studio, StudioError, default_folder
from landmarks.names import NAMINGS, usual_naming
from landmarks.sets import DEFAULT_SET, LandmarkSet, SetError, built_in_sets, parse_set
from landmarks.translation import _

SEEDS = 2**53
"""Whole numbers below this keep their value in every reader of JSON (RFC 8259, section 6)."""


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
        return datetime.fromisoformat(text).astimezone()
    except ValueError:
        raise argparse.ArgumentTypeError(
            _("{text!r} is not a date such as 2026-03-31").format(text=text)
        ) from None


def moment_of(arguments: argparse.Namespace) -> datetime:
    """Give the evening of the day asked for, or now."""
    if arguments.on is None:
        return datetime.now().astimezone()
    return datetime.combine(arguments.on, time.max).astimezone()


def studio_of(arguments: argparse.Namespace) -> Studio:
    """Give the studio that the options name."""
    return Studio(arguments.studio or default_folder())


def pupil_of(nickname: str, studio: Studio) -> Pupil:
    """Give a pupil, who is new if there is none of this nickname."""
    try:
        return studio.pupil(nickname)
    except StudioError as error:
        raise Refusal(error) from None


def known_pupil(nickname: str, studio: Studio) -> Pupil:
    """Give a pupil who is there already."""
    try:
        return studio.known_pupil(nickname)
    except StudioError as error:
        raise Refusal(error) from None


def seed_of(arguments: argparse.Namespace) -> int:
    """Give the seed asked for, or a new one."""
    return secrets.randbelow(SEEDS) if arguments.seed is None else int(arguments.seed)


def landmarks_named(name: str) -> LandmarkSet:
    """Give a landmark set: a built-in one by name, else a teacher's file."""
    built_in = built_in_sets()
    if name in built_in:
        return built_in[name]
    path = Path(name)
    try:
        source = read_plain(path, LARGEST_SMALL_FILE).decode()
        return parse_set(source, path.stem, str(path))
    except SetError as error:
        raise Refusal(error) from None
    except UnicodeDecodeError:
        raise Refusal(
            _("{path}: this is not UTF-8 text; save the set as UTF-8").format(path=path)
        ) from None
    except OSError as error:
        names = ", ".join(built_in)
        raise Refusal(
            _("{path}: no such set can be read ({reason}); name a file or one of {names}").format(
                path=path, reason=error.strerror, names=names
            )
        ) from None


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
