"""Reads ZIP files that came from elsewhere, one file in them after the other, never boundless."""

from __future__ import annotations

import lzma
import os
import struct
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from drills.storage.files import LARGEST_SESSION, MEGABYTE, open_plain
from drills.text.errors import DrillsError
from landmarks.translation import _

SUFFIX = ".zip"
LARGEST_PACKED = 256 * MEGABYTE
MOST_UNPACKED = 1024 * MEGABYTE
MOST_FILES = 20_000
"""Years of daily practice are some thousand sessions of under 1 MB."""
LONGEST_NAME = 150
"""In bytes; file systems take at most 255."""
_BROKEN = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, EOFError, NotImplementedError,
    OverflowError, RuntimeError, ValueError,
)  # fmt: skip
"""What `zipfile` says of files that are cut short, changed, locked, or packed in ways that it
does not know."""


class PackedError(DrillsError, ValueError):
    """The ZIP file cannot be used; its one sentence says why and what to do."""


def unpacked(path: Path) -> Iterator[tuple[str, bytes]]:
    """Yield the name, without folders, and the content of each file in a ZIP file.

    Nothing is put on the disk. Folders in it are left out, and so are names that no file of the
    studio has. Raises: PackedError, or OSError, if it cannot be read or holds more than the limits.
    """
    with open_plain(path, LARGEST_PACKED) as file:
        try:
            archive = zipfile.ZipFile(file)
            entries = [entry for entry in archive.infolist() if not entry.is_dir()]
        except _BROKEN:
            raise _unreadable() from None
        _within_limits(entries)
        for entry in entries:
            name = PurePosixPath(entry.filename).name
            if name in ("", "..") or "\\" in name or len(os.fsencode(name)) > LONGEST_NAME:
                continue
            try:
                yield name, archive.read(entry)
            except _BROKEN:
                raise _unreadable() from None


def _within_limits(entries: list[zipfile.ZipInfo]) -> None:
    """Trust the sizes that are given: `zipfile` reads no more of a file than it says it has."""
    sizes = [entry.file_size for entry in entries]
    largest = max(sizes, default=0)
    if len(sizes) > MOST_FILES or largest > LARGEST_SESSION or sum(sizes) > MOST_UNPACKED:
        raise PackedError(
            _("this ZIP file holds too much; unpack it and take in the folder with the sessions")
        )


def _unreadable() -> PackedError:
    return PackedError(
        _("this ZIP file cannot be read; ask for it again, or unpack it and take in the folder")
    )
