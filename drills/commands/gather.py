"""`landmark-drills gather`: take in files of the studio from another machine."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.commands.options import add_studio_option, studio_of
from drills.commands.progress import ProgressBar
from drills.commands.refusal import Refusal
from drills.storage.import_files import files_in, gather
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Take session files, home plans and what pupils bring into the studio, from folders (at any depth),
from ZIP files or one by one.
The same file may come twice, renamed or cut short: every whole line is kept, and none twice.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "places",
        nargs="+",
        type=Path,
        metavar=_("FOLDER"),
        help=_("folder or file, packed as ZIP or not"),
    )
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Take the files in and say what came of them; 2 if one could not be used."""
    try:
        files = files_in(arguments.places)
    except FileNotFoundError as error:
        raise Refusal(
            _("{error}: there is no such folder or file; check its name").format(error=error)
        ) from None
    with ProgressBar(_("gathering"), len(files)) as bar:
        summary = gather(files, studio_of(arguments), bar.advance)
    print("\n".join(summary.sentences()))
    return 2 if summary.refused else 0
