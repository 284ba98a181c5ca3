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
from drills.storage.nickname import NicknameError, checked_nickname, is_drawable, same_name_key
from drills.storage.session_file import SessionFileError, read_session
from drills.text.errors import DrillsError
from drills.text.ordering import dictionary_key
from landmarks.reasons import reason_of
from landmarks.translation import _


class StudioError(DrillsError, ValueError):
    """The studio cannot be used so; its one sentence says what, where and what to do."""


def default_folder() -> Path:
    """Return the studio folder of this user: the platform's place for a program's data."""
    return Path(platformdirs.user_data_dir("landmark-drills", appauthor=False))


@dataclass(frozen=True, order=True)
class Pupil:
    """A pupil's own folder in the studio."""

    nickname: str
    folder: Path

    @property
    def studio_folder(self) -> Path:
        """The folder of the studio that holds this pupil."""
        return self.folder.parent

    def file(self, suffix: str) -> Path:
        """Return the path of the pupil's own file whose name ends so, as in Robin.plan.json.

        A file that is there under another way of writing the same letters (a disk of another
        system) is that file.
        """
        path = self.folder / f"{self.nickname}{suffix}"
        if path.exists() or path.name.isascii():
            return path
        others = self.folder.glob(f"*{suffix}") if self.folder.is_dir() else ()
        return next((other for other in others if _composed(other.name) == path.name), path)

    @property
    def sessions_folder(self) -> Path:
        """Where the session files lie."""
        return self.folder / "sessions"

    def session_files(self) -> tuple[Path, ...]:
        """Return the session files, oldest first by their names."""
        return tuple(sorted(self.sessions_folder.glob("*.jsonl")))

    def responses(self) -> Iterator[Response]:
        """Return every counted answer of every readable session, session by session."""
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
        """Return the pupils in the order of a dictionary.

        A folder whose name is no text that can be written down is nobody's.
        """
        if not self.folder.is_dir():
            return ()
        folders = [path.parent for path in self.folder.glob("*/sessions")]
        pupils = [
            Pupil(_composed(folder.name), folder) for folder in folders if is_drawable(folder.name)
        ]
        return tuple(sorted(pupils, key=lambda pupil: (dictionary_key(pupil.nickname), pupil)))

    def pupil(self, nickname: str) -> Pupil:
        """Return a pupil, whose folder is made if there is none.

        Raises: StudioError if the nickname cannot be one or the folder cannot be made.
        """
        try:
            name = checked_nickname(nickname)
        except NicknameError as error:
            raise StudioError(error) from None
        pupil = self._found(name) or Pupil(name, self.folder / name)
        try:
            for folder in (self.folder, pupil.folder, pupil.sessions_folder):
                make_private(folder)
        except OSError as error:
            raise StudioError(
                _("{folder}: this folder cannot be made ({reason}); name another folder").format(
                    folder=pupil.folder, reason=reason_of(error)
                )
            ) from None
        return pupil

    def known_pupil(self, nickname: str) -> Pupil:
        """Return a pupil who is there already. Raises: StudioError if there is none."""
        found = self._found(_composed(nickname).strip())
        if found is not None:
            return found
        names = ", ".join(pupil.nickname for pupil in self.pupils())
        raise StudioError(
            _("{folder} holds no {nickname!r}; name one of {names}").format(
                folder=self.folder, nickname=nickname, names=names
            )
            if names
            else _("{folder} holds no pupils; name another folder with --studio").format(
                folder=self.folder
            )
        )

    def _found(self, nickname: str) -> Pupil | None:
        """Return the pupil of exactly this nickname, else of one that differs by case alone."""
        pupils = self.pupils()
        exact = (pupil for pupil in pupils if pupil.nickname == nickname)
        alike = (p for p in pupils if same_name_key(p.nickname) == same_name_key(nickname))
        return next(exact, None) or next(alike, None)

    def piano_shifts(self) -> dict[str, int]:
        """Return the remembered pianos, the last used one last, with their shifts in semitones."""
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
        """Return a remembered piano's shift in semitones, None if it is not known."""
        return self.piano_shifts().get(piano)

    def last_piano(self) -> str | None:
        """Return the name of the piano used last, None before there was one."""
        return next(reversed(self.piano_shifts()), None)

    def remember_piano(self, name: str, shift: int) -> None:
        """Remember a piano as the last used one, and its shift in semitones."""
        shifts = self.piano_shifts()
        shifts.pop(name, None)
        make_private(self.folder)
        content = json.dumps(shifts | {name: shift}, ensure_ascii=False, indent=1)
        replace_privately(self._pianos_file, content + "\n")

    @property
    def _pianos_file(self) -> Path:
        return self.folder / "pianos.json"


def _composed(name: str) -> str:
    return unicodedata.normalize("NFC", name)
