"""`landmark-drills export`: pack all that is kept of a pupil into one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from drills.commands.options import add_studio_option, known_pupil, studio_of
from drills.commands.refusal import Refusal
from drills.storage.files import replace_privately
from drills.storage.pupil_export import belongings, exported
from landmarks.translation import _, noted

DESCRIPTION = noted("""\
Pack every file in a pupil's folder, with a short readme, into a ZIP file that only you can read.
The same files give the same ZIP file.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("pupil", metavar=_("PUPIL"), help=_("nickname of the pupil"))
    parser.add_argument("file", type=Path, metavar=_("FILE.zip"), help=_("where to put it"))
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Pack, and say what was packed; 2 if something could not be."""
    pupil = known_pupil(arguments.pupil, studio_of(arguments))
    try:
        content, left_out = exported(pupil)
        replace_privately(arguments.file, content)
    except OSError as error:
        raise Refusal(
            _(
                "{filename}: {nickname} cannot be packed ({reason}); mend this file or name another"
            ).format(
                filename=error.filename or arguments.file,
                nickname=pupil.nickname,
                reason=error.strerror,
            )
        ) from None
    print(f"{arguments.file}: {pupil.nickname}, {belongings(pupil)}")
    for path in left_out:
        print(_("{path}: left out, this is no plain file").format(path=path))
    return 2 if left_out else 0
