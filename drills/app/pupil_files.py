"""Packing all that is kept of a pupil into one file, and removing it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from drills.app.user_error import UserError
from drills.storage.files import replace_privately
from drills.storage.pupil_export import Belongings, belongings, exported, forget
from drills.storage.studio import Pupil
from landmarks.translation import _


@dataclass(frozen=True)
class Export:
    """A ZIP file that was written: what it holds, and what was left out of it."""

    pupil: Pupil
    path: Path
    belongings: Belongings
    left_out: tuple[Path, ...]

    def sentences(self) -> list[str]:
        """Say what was packed and what was not."""
        packed = f"{self.path}: {self.pupil.nickname}, {self.belongings}"
        told = _("{path}: left out, this is no plain file")
        return [packed, *(told.format(path=path) for path in self.left_out)]


def export_pupil(pupil: Pupil, path: Path) -> Export:
    """Pack every file of a pupil into a ZIP file; the same files give the same bytes.

    Raises:
        UserError: a file cannot be read, or the ZIP file cannot be written.
    """
    try:
        content, left_out = exported(pupil)
        replace_privately(path, content)
    except OSError as error:
        raise UserError(
            _(
                "{filename}: {nickname} cannot be packed ({reason}); mend this file or name another"
            ).format(
                filename=error.filename or path, nickname=pupil.nickname, reason=error.strerror
            )
        ) from None
    return Export(pupil, path, belongings(pupil), left_out)


def what_is_kept(pupil: Pupil) -> str:
    """Say in words what is kept of a pupil, and where."""
    return f"{belongings(pupil)}, {pupil.folder}"


def forget_pupil(pupil: Pupil) -> list[str]:
    """Remove all that is kept of a pupil, and return sentences that say so.

    Raises:
        UserError: the folder cannot be removed.
    """
    told = f"{pupil.nickname}: {what_is_kept(pupil)}"
    try:
        forget(pupil)
    except OSError as error:
        reason = error.strerror or error
        raise UserError(
            _("{folder}: this folder cannot be removed ({reason}); remove it by hand").format(
                folder=pupil.folder, reason=reason
            )
        ) from None
    return [
        _("Removed {belongings}.").format(belongings=told),
        _("Pages, plans and copies that were saved elsewhere are not touched."),
    ]
