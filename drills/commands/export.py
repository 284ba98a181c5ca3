"""`landmark-drills export`: pack all that is kept of a pupil into one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.belongings import belongings, exported
from drills.commands.options import add_studio_option, known_pupil, studio_of
from drills.commands.refusal import Refusal
from drills.files import replace_privately

DESCRIPTION = """\
Pack every file in a pupil's folder, with a short readme, into a ZIP file that only you can read.
The same files give the same ZIP file.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("pupil", metavar="PUPIL", help="nickname of the pupil")
    parser.add_argument("file", type=Path, metavar="FILE.zip", help="where to put it")
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Pack, and say what was packed; 2 if something could not be."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments))
    try:
        content, left_out = exported(pupil)
        replace_privately(arguments.file, content)
    except OSError as error:
        raise Refusal(
            f"{error.filename or arguments.file}: {pupil.nickname} cannot be packed "
            f"({error.strerror}); mend this file or name another"
        ) from None
    print(f"{arguments.file}: {pupil.nickname}, {belongings(pupil)}")
    for path in left_out:
        print(f"{path}: left out, this is no plain file")
    return 2 if left_out else 0
