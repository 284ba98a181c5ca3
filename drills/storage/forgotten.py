"""Who was forgotten lately, so that nothing that still runs writes a pupil back.

A program that practises with a pupil, or takes files in, has her name in its memory while another
removes her. It notes how much was forgotten when it began, and looks again before it makes a
folder or a file anew. Names are kept as salted hashes only, and of the latest only.
"""

from __future__ import annotations

import hashlib
import secrets
from pathlib import Path

import msgspec

from drills.storage.files import LARGEST_SMALL_FILE, read_plain, replace_privately
from drills.storage.nickname import same_name_key
from drills.text.errors import DrillsError
from landmarks.translation import _

_FILE = ".forgotten.json"
_KEPT = 100
"""Nobody forgets more pupils than that while one program runs."""


class ForgottenError(DrillsError, OSError):
    """The pupil was removed meanwhile; its one sentence says so."""

    def __init__(self, nickname: str) -> None:
        """Say it of this pupil."""
        super().__init__()
        self.strerror = _("{name} was removed meanwhile, and nothing more is kept").format(
            name=nickname
        )


class _Forgotten(msgspec.Struct, frozen=True):
    count: int = 0
    """How many were ever forgotten in this studio."""
    latest: tuple[tuple[str, str], ...] = ()
    """Salt and hash of each of the latest, oldest first."""


def count_forgotten(studio_folder: Path) -> int:
    """Return how many pupils were forgotten so far: what a program notes when it begins."""
    return _read(studio_folder).count


def note_forgotten(studio_folder: Path, nickname: str) -> None:
    """Note that a pupil is forgotten from now on. OSError if it cannot be written."""
    present, salt = _read(studio_folder), secrets.token_hex(8)
    latest = (*present.latest, (salt, _hash(salt, nickname)))[-_KEPT:]
    content = msgspec.json.encode(_Forgotten(present.count + 1, latest))
    replace_privately(studio_folder / _FILE, content)


def check_not_forgotten(studio_folder: Path, nickname: str, since: int) -> None:
    """Check that a pupil was not forgotten since `since` were. Raises: ForgottenError."""
    present = _read(studio_folder)
    lately = present.latest[-(present.count - since) :] if present.count > since else ()
    if any(hashed == _hash(salt, nickname) for salt, hashed in lately):
        raise ForgottenError(nickname)


def _hash(salt: str, nickname: str) -> str:
    return hashlib.sha256((salt + same_name_key(nickname)).encode()).hexdigest()


def _read(studio_folder: Path) -> _Forgotten:
    try:
        return msgspec.json.decode(
            read_plain(studio_folder / _FILE, LARGEST_SMALL_FILE), type=_Forgotten
        )
    except (OSError, msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return _Forgotten()
