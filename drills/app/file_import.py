"""Taking files of the studio in from another machine."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from drills.app.progress import UNWATCHED, Progress
from drills.app.user_error import UserError
from drills.storage.import_files import Summary, files_in, take_in_files
from drills.storage.studio import Studio
from landmarks.translation import _


def take_in(places: Iterable[Path], studio: Studio, progress: Progress = UNWATCHED) -> Summary:
    """Take files, folders and ZIP files in; what cannot be used is named in the summary.

    Raises:
        UserError: a place does not exist.
        CancelledError: it was stopped; what was taken in before stays.
    """
    try:
        files = files_in(places)
    except FileNotFoundError as error:
        raise UserError(
            _("{error}: there is no such folder or file; check its name").format(error=error)
        ) from None
    return take_in_files(files, studio, progress.counter(len(files)))
