"""The studio: the folder that holds the pupils and their session files.

    studio/
        pianos.json                     what was learnt about each piano
        NICKNAME/sessions/*.jsonl       one file a session

Everything in it is readable by its owner only.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import msgspec
import platformdirs

from drills.learning.response import Response
from drills.sessions.tuning import FARTHEST_SHIFT
from drills.storage.files import LARGEST_SMALL_FILE, make_private, read_plain, replace_privately
from drills.storage.session_file import SessionFileError, read_session
from drills.text.errors import DrillsError
from landmarks.translation import _

LONGEST_NICKNAME = 24
_PUNCTUATION = " -_'"
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)}
)
"""File names that Windows keeps for devices, whatever the case."""


class StudioError(DrillsError, ValueError):
    """The studio cannot be used so; its one sentence says what, where and what to do."""


def default_folder() -> Path:
    """Give the studio folder of this user: the platform's place for a program's data."""
    return Path(platformdirs.user_data_dir("landmark-drills", appauthor=False))


def checked_nickname(text: str) -> str:
    """Give a nickname as it is stored. StudioError if it could not name a folder everywhere."""
    nickname = unicodedata.normalize("NFC", text).strip()
    fits = 0 < len(nickname) <= LONGEST_NICKNAME
    plain = all(letter.isalnum() or letter in _PUNCTUATION for letter in nickname)
    if not (fits and plain) or nickname.casefold() in _RESERVED:
        raise StudioError(
            _(
                "{text!r} cannot be a nickname: use 1 to {longest_nickname} letters, digits or "
                "spaces, and no real full name"
            ).format(text=text, longest_nickname=LONGEST_NICKNAME)
        )
    return nickname


@dataclass(frozen=True)
class Pupil:
    """A pupil's own folder in the studio."""

    nickname: str
    folder: Path

    @property
    def sessions_folder(self) -> Path:
        """Where the session files lie."""
        return self.folder / "sessions"

    def session_files(self) -> tuple[Path, ...]:
        """Give the session files, oldest first by their names."""
        return tuple(sorted(self.sessions_folder.glob("*.jsonl")))

    def responses(self) -> Iterator[Response]:
        """Give every counted answer of every readable session, session by session."""
        for path in self.session_files():
            try:
                yield from read_session(path).responses
            except (SessionFileError, OSError):
                continue


@dataclass(frozen=True)
class Studio:
    """The folder of all pupils."""

    folder: Path

    def pupils(self) -> tuple[Pupil, ...]:
        """Give the pupils in the order of their nicknames."""
        if not self.folder.is_dir():
            return ()
        folders = sorted(path.parent for path in self.folder.glob("*/sessions"))
        return tuple(Pupil(folder.name, folder) for folder in folders)

    def pupil(self, nickname: str) -> Pupil:
        """Give a pupil, whose folder is made if there is none.

        StudioError if the nickname cannot be one or the folder cannot be made.
        """
        name = checked_nickname(nickname)
        for pupil in self.pupils():
            if pupil.nickname.casefold() == name.casefold():
                return pupil
        pupil = Pupil(name, self.folder / name)
        try:
            for folder in (self.folder, pupil.folder, pupil.sessions_folder):
                make_private(folder)
        except OSError as error:
            raise StudioError(
                _("{folder}: this folder cannot be made ({reason}); name another folder").format(
                    folder=pupil.folder, reason=error.strerror
                )
            ) from None
        return pupil

    def known_pupil(self, nickname: str) -> Pupil:
        """Give a pupil who is there already. StudioError if there is none of this nickname."""
        pupils = self.pupils()
        for pupil in pupils:
            if pupil.nickname.casefold() == nickname.casefold():
                return pupil
        names = ", ".join(pupil.nickname for pupil in pupils)
        raise StudioError(
            f"{self.folder} holds no {nickname!r}; name one of {names}"
            if names
            else f"{self.folder} holds no pupils; name another folder with --studio"
        )

    def piano_shifts(self) -> dict[str, int]:
        """Give the remembered pianos, the last used one last, with their shifts in semitones."""
        try:
            stored = msgspec.json.decode(read_plain(self._pianos_file, LARGEST_SMALL_FILE))
        except (OSError, ValueError, RecursionError):
            return {}
        if not isinstance(stored, dict):
            return {}
        return {
            name: shift
            for name, shift in stored.items()
            if type(shift) is int and abs(shift) <= FARTHEST_SHIFT
        }

    def shift_of(self, piano: str) -> int | None:
        """Give a remembered piano's shift in semitones, None if it is not known."""
        return self.piano_shifts().get(piano)

    def last_piano(self) -> str | None:
        """Give the name of the piano used last, None before there was one."""
        return next(reversed(self.piano_shifts()), None)

    def remember_piano(self, name: str, shift: int) -> None:
        """Remember a piano as the last used one, and its shift in semitones."""
        shifts = self.piano_shifts()
        shifts.pop(name, None)
        content = json.dumps(shifts | {name: shift}, ensure_ascii=False, indent=1)
        replace_privately(self._pianos_file, content + "\n")

    @property
    def _pianos_file(self) -> Path:
        return self.folder / "pianos.json"
