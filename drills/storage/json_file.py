"""The small JSON files of the studio, each one record: written for people to read, too."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

import msgspec

from drills.storage.files import LARGEST_SMALL_FILE, read_plain, replace_privately

Told = TypeVar("Told")


def write_small(path: Path, told: object) -> None:
    """Write a record, readable by its owner only. OSError if it cannot be written."""
    text = msgspec.json.format(msgspec.json.encode(told), indent=1).decode()
    replace_privately(path, text + "\n")


def read_small(path: Path, kind: type[Told]) -> Told | None:
    """Read a record of a kind, None if the file holds none. OSError if it cannot be read."""
    try:
        return msgspec.json.decode(read_plain(path, LARGEST_SMALL_FILE), type=kind)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return None
