"""The small JSON files of the studio, each one record: written for people to read, too."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

import msgspec

from drills.storage.files import replace_privately

Told = TypeVar("Told")


def write_small(path: Path, told: object) -> None:
    """Write a record, readable by its owner only. OSError if it cannot be written."""
    text = msgspec.json.format(msgspec.json.encode(told), indent=1).decode()
    replace_privately(path, text + "\n")


def parse_small(content: bytes, kind: type[Told]) -> Told | None:
    """Return the record of a kind that `content` is, None if it is none."""
    try:
        return msgspec.json.decode(content, type=kind)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return None
