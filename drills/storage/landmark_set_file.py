"""A teacher's own landmark set: a copy in the pupil's folder, so that it goes where she goes."""

from __future__ import annotations

from pathlib import Path

from drills.storage.files import LARGEST_SMALL_FILE, read_plain, replace_privately
from drills.storage.studio import Pupil
from landmarks.reasons import reason_of
from landmarks.sets import LandmarkSet, SetError, built_in_sets, parse_set
from landmarks.translation import _

SUFFIX = ".set.toml"


def landmarks_named(name: str, pupil: Pupil | None = None) -> LandmarkSet:
    """Return a landmark set: a built-in one by its name, else a teacher's file.

    Of a pupil, a file that is named without a folder is looked for in her own folder first.
    Raises: SetError, whose one sentence says what, where and what to do.
    """
    built_in = built_in_sets()
    return built_in[name] if name in built_in else read_set(_path_of(name, pupil))


def read_set(path: Path) -> LandmarkSet:
    """Return the set in a file. Raises: SetError if it cannot be read as one."""
    try:
        content = read_plain(path, LARGEST_SMALL_FILE)
    except OSError as error:
        raise SetError(
            _("{path}: no such set can be read ({reason}); name a file or one of {names}").format(
                path=path, reason=reason_of(error), names=", ".join(built_in_sets())
            )
        ) from None
    return _parsed(content, path)


def copy_set(path: Path, pupil: Pupil) -> str:
    """Copy a teacher's file into a pupil's folder; return the name by which her settings know it.

    Raises: SetError if the file is no set; OSError if it cannot be kept.
    """
    read_set(path)
    keep_set(read_plain(path, LARGEST_SMALL_FILE), path, pupil)
    return pupil.file(SUFFIX).name


def keep_set(content: bytes, where: Path, pupil: Pupil) -> bool:
    """Keep a set in a pupil's folder; return False if just this one is there already.

    `where` is for the sentence. Raises: SetError if it is no set; OSError if it cannot be kept.
    """
    _parsed(content, where)
    path = pupil.file(SUFFIX)
    if path.is_file() and read_plain(path, LARGEST_SMALL_FILE) == content:
        return False
    replace_privately(path, content)
    return True


def _path_of(name: str, pupil: Pupil | None) -> Path:
    own = pupil.folder / name if pupil is not None and Path(name).name == name else None
    return own if own is not None and own.exists() else Path(name)


def _parsed(content: bytes, path: Path) -> LandmarkSet:
    try:
        return parse_set(content.decode(), path.stem, str(path))
    except UnicodeDecodeError:
        raise SetError(
            _("{path}: this is not UTF-8 text; save the set as UTF-8").format(path=path)
        ) from None
