"""What a pupil has in the studio, to be given away whole or to be removed whole."""

from __future__ import annotations

import errno
import io
import os
import secrets
import shutil
import zipfile
from dataclasses import dataclass
from itertools import compress
from pathlib import Path

from drills.storage.belief_checkpoint import NAME as CHECKPOINT
from drills.storage.files import LARGEST_SESSION, read_plain, sync_folder
from drills.storage.forgotten import note_forgotten
from drills.storage.plan import SUFFIX
from drills.storage.studio import Pupil
from landmarks.translation import _, gettext_noop, ngettext

README = gettext_noop("""\
Everything that landmark-drills keeps of {pupil}.

sessions/*.jsonl   one file a session: UTF-8 text, one JSON object a line; the first line says
                   when it began, the others what was asked, played and answered
*{suffix}        the home plan, if there is one
*.beginnings.json  what the pupil brings, if that is set down
*.settings.toml    how the pupil practises
*.set.toml         the teacher's own landmarks, if they are used
pages/             pages that were made for printing

To take it into another studio: run landmark-drills gather with this ZIP file.
""")
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The earliest date that a ZIP file can hold (APPNOTE 4.4.6): the same files give the same ZIP."""
_OWNER_ONLY = 0o100600 << 16


@dataclass(frozen=True)
class PupilFiles:
    """The files of one pupil: session files, home plans, and whatever else lies in the folder."""

    sessions: tuple[Path, ...]
    plans: tuple[Path, ...]
    others: tuple[Path, ...]

    def __bool__(self) -> bool:
        """Return whether there is any file."""
        return any((self.sessions, self.plans, self.others))

    def __str__(self) -> str:
        """Count them in words: "12 sessions, 1 home plan"."""
        told = (
            ngettext("{count} session", "{count} sessions", len(self.sessions)),
            ngettext("{count} home plan", "{count} home plans", len(self.plans)),
            ngettext("{count} other file", "{count} other files", len(self.others)),
        )
        there = (self.sessions, self.plans, self.others)
        return ", ".join(compress(told, there)) or _("no files")


def list_files(pupil: Pupil) -> PupilFiles:
    """Return what lies in a pupil's folder; links are named and not followed.

    The checkpoint of what is believed of her is made anew from the sessions anywhere.
    """
    files = sorted(
        path for path in pupil.folder.rglob("*") if path.is_symlink() or not path.is_dir()
    )
    sessions = tuple(path for path in files if path.suffix == ".jsonl")
    plans = tuple(path for path in files if path.name.endswith(SUFFIX))
    others = tuple(
        path for path in files if path not in (*sessions, *plans) and path.name != CHECKPOINT
    )
    return PupilFiles(sessions, plans, others)


def forget(pupil: Pupil) -> None:
    """Remove a pupil's folder and all in it, and the studio's own pages, which may name her.

    What links in it lead to stays. A program that still practises with her, or takes files in,
    writes nothing back. Raises: OSError if that cannot be done, as when the folder is a link.
    """
    if pupil.folder.is_symlink():
        raise OSError(errno.ELOOP, _("it is a link to another place"), str(pupil.folder))
    note_forgotten(pupil.studio_folder, pupil.nickname)
    leaving = pupil.folder.with_name(f".removed-{secrets.token_hex(8)}")
    pupil.folder.rename(leaving)
    remove_remains(pupil.studio_folder)
    if leaving.exists():
        raise OSError(errno.EBUSY, os.strerror(errno.EBUSY), str(leaving))
    for page in pupil.studio_folder.glob("*.html"):
        page.unlink()
    sync_folder(pupil.studio_folder)


def remove_remains(studio_folder: Path) -> None:
    """Remove what is left of removals that were cut off, as far as it can be removed."""
    for leaving in studio_folder.glob(".removed-*"):
        shutil.rmtree(leaving, ignore_errors=True)


def pack_pupil(pupil: Pupil) -> tuple[bytes, tuple[Path, ...]]:
    """Return all of a pupil as a ZIP file, and the paths that are no plain files and were left out.

    The same files give the same bytes. OSError if a file cannot be read.
    """
    found = list_files(pupil)
    packed, left_out = io.BytesIO(), []
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        readme = _(README).format(pupil=pupil.nickname, suffix=SUFFIX)
        archive.writestr(_entry(f"{pupil.nickname}/readme.txt"), readme)
        for path in (*found.sessions, *found.plans, *found.others):
            if path.is_symlink() or not path.is_file():
                left_out.append(path)
                continue
            name = f"{pupil.nickname}/{path.relative_to(pupil.folder).as_posix()}"
            archive.writestr(_entry(name), read_plain(path, LARGEST_SESSION))
    return packed.getvalue(), tuple(left_out)


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _EPOCH)
    entry.external_attr = _OWNER_ONLY
    entry.compress_type = zipfile.ZIP_DEFLATED
    return entry
