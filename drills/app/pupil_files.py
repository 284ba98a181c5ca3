"""Packing all that is kept of a pupil into one file, and removing it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from drills.app.output import write_bytes
from drills.app.user_error import UserError
from drills.storage.pupil_export import PupilFiles, forget, list_files, pack_pupil
from drills.storage.studio import Pupil
from landmarks.reasons import reason_of
from landmarks.translation import _


@dataclass(frozen=True)
class Export:
    """A ZIP file, written if there was anything to pack; `left_out` is what could not be."""

    nickname: str
    path: Path
    belongings: PupilFiles
    left_out: tuple[Path, ...]

    def sentences(self) -> list[str]:
        """Say what was packed and what was not."""
        if not self.belongings:
            return [_("Nothing is kept of {name}; nothing was packed.").format(name=self.nickname)]
        packed = f"{self.path}: {self.nickname}, {self.belongings}"
        left_out = _("{path}: left out, this is no plain file")
        none_yet = _("{name} has not practised yet: no session is among them.")
        return [
            packed,
            *(left_out.format(path=path) for path in self.left_out),
            *[none_yet.format(name=self.nickname)] * (not self.belongings.sessions),
        ]


def export_pupil(pupil: Pupil, path: Path) -> Export:
    """Pack every file of a pupil into a ZIP file; the same files give the same bytes.

    Raises:
        UserError: a file cannot be read, or the ZIP file cannot be written.
    """
    try:
        content, left_out = pack_pupil(pupil)
    except OSError as error:
        raise UserError(
            _(
                "{filename}: {nickname} cannot be packed ({reason}); mend this file or name another"
            ).format(
                filename=error.filename or pupil.folder,
                nickname=pupil.nickname,
                reason=reason_of(error),
            )
        ) from None
    found = list_files(pupil)
    if found:
        write_bytes(path, content)
    return Export(pupil.nickname, path, found, left_out)


def what_is_kept(pupil: Pupil) -> str:
    """Say in words what is kept of a pupil, and where."""
    return f"{list_files(pupil)}, {pupil.folder}"


def forget_pupil(pupil: Pupil) -> list[str]:
    """Remove all that is kept of a pupil, and return sentences that say so.

    Raises:
        UserError: the folder cannot be removed.
    """
    told = f"{pupil.nickname}: {what_is_kept(pupil)}"
    try:
        forget(pupil)
    except OSError as error:
        raise UserError(
            _("{folder}: this folder cannot be removed ({reason}); remove it by hand").format(
                folder=pupil.folder, reason=reason_of(error)
            )
        ) from None
    return [
        _("Removed {belongings}.").format(belongings=told),
        _("Pages, plans and copies that were saved elsewhere are not touched."),
    ]
