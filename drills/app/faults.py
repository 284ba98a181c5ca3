"""The latest faults of the program itself, kept in a small file that a person may send on.

Nothing of a pupil stands in it: no names, no answers, no messages and no paths of the machine,
only which line of the program failed in which way. Nothing is sent by the program.
"""

from __future__ import annotations

import platform
import traceback
from datetime import datetime
from pathlib import Path

import msgspec

from drills import __version__
from drills.storage.files import LARGEST_SMALL_FILE, make_private, read_plain
from drills.storage.json_file import parse_small, write_small

FAULTS = "faults.json"
MOST_FAULTS = 10
_PACKAGES = Path(__file__).parents[2]


class Fault(msgspec.Struct, frozen=True):
    """One fault: when (aware), in which program on which system, what kind, and where."""

    at: datetime
    program: str
    python: str
    system: str
    kind: str
    where: tuple[str, ...]
    """The lines that led to it, the one that failed last: "drills/app/faults.py:60 keep_fault"."""


def keep_fault(error: BaseException, folder: Path) -> Path | None:
    """Keep a fault among the latest ones in a folder; return the file, None if it cannot be."""
    path = folder / FAULTS
    fault = Fault(
        datetime.now().astimezone(),
        __version__,
        platform.python_version(),
        platform.system(),
        type(error).__name__,
        tuple(_place(frame) for frame in traceback.extract_tb(error.__traceback__)),
    )
    try:
        earlier = _earlier(path)
        make_private(folder)
        write_small(path, [*earlier, fault][-MOST_FAULTS:])
    except OSError:
        return None
    return path


def _earlier(path: Path) -> tuple[Fault, ...]:
    """Return the faults that are kept; none of a report that is damaged or not there."""
    if not path.exists():
        return ()
    return parse_small(read_plain(path, LARGEST_SMALL_FILE), tuple[Fault, ...]) or ()


def _place(frame: traceback.FrameSummary) -> str:
    """Name a line of a program; of programs that are not ours only the file's name is told."""
    path = Path(frame.filename)
    ours = path.is_relative_to(_PACKAGES) and path.relative_to(_PACKAGES).parts[0] in (
        "drills",
        "landmarks",
    )
    name = path.relative_to(_PACKAGES).as_posix() if ours else path.name
    return f"{name}:{frame.lineno} {frame.name}"
