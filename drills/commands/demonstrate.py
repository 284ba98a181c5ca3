"""`landmark-drills demonstrate`: a simulated pupil plays a session."""

from __future__ import annotations

import argparse
import shlex
from pathlib import Path

from drills.app.demonstration import invent_studio, prepare_demonstration
from drills.app.output import write_bytes
from drills.app.practice_context import practice_context
from drills.app.user_error import UserError
from drills.commands.options import add_drill_options, practice_options, seed_of
from drills.commands.output import print_lines
from drills.commands.progress import ProgressBar
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
A simulated pupil plays a session through the same engine that drills a real one, right, wrong
and clumsy, and leaves a session file. With --headless no screen is needed: the session is played
at once, and the last card is left as a picture beside the session file. With --studio a whole
invented studio is made instead, weeks of practice of several pupils, to be reviewed; with
--beginners it is one of three beginners who climb the ladder from different rungs.
""")
PICTURE_SIZE = (1024, 768)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--headless", action="store_true", help=_("no window: play it at once"))
    parser.add_argument(
        "--folder", type=Path, default=Path("demonstration"),
        help=_("where the session file and the picture go (demonstration)"),
    )  # fmt: skip
    parser.add_argument(
        "--studio", type=Path, metavar=_("FOLDER"),
        help=_("make a studio of invented pupils in this folder instead"),
    )  # fmt: skip
    parser.add_argument(
        "--beginners", action="store_true", help=_("with --studio: three beginners on the ladder")
    )
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Play a session, or weeks of them; print where the files lie."""
    if arguments.studio:
        return _invent_studio(arguments.studio, arguments.seed or 0, arguments.beginners)
    if arguments.beginners:
        raise UserError(_("--beginners makes a whole studio; add --studio and a new folder"))
    context = practice_context(None, practice_options(arguments))
    prepared = prepare_demonstration(arguments.folder, context, seed_of(arguments))
    try:
        if arguments.headless:
            from drills.window.demonstration import picture_of

            size = arguments.size or PICTURE_SIZE
            picture = arguments.folder / "last-card.png"
            write_bytes(picture, picture_of(prepared.play_at_once(), prepared, *size))
            print_lines([_("the last card: {picture}").format(picture=picture)])
        else:
            from drills.window.demonstration import show_demonstration
            from drills.window.screen import open_screen

            screen = open_screen(arguments.size, arguments.full_screen)
            show_demonstration(prepared, screen)
    finally:
        prepared.recorder.close()
    path = prepared.pupil.session_files()[-1]
    print_lines([_("the session: {path}").format(path=path)])
    return 0


def _invent_studio(folder: Path, seed: int, beginners: bool) -> int:
    with ProgressBar(_("practising")) as progress:
        studio = invent_studio(folder, seed, beginners, progress)
    count = len(studio.pupils())
    print_lines(
        [
            _("{count} invented pupils: {folder}").format(count=count, folder=folder),
            f"landmark-drills review --studio {shlex.quote(str(folder))}",
        ]
    )
    return 0
