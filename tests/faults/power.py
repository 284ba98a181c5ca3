"""A power cut at every write boundary, as far as a file system promises anything.

What was handed to the system and not synced may be there, may be cut anywhere, or may read as
zeros where the length was kept and the data was not (the open group's fsync() promises no more).
So at each boundary between two calls of the system every length from the synced one to the
written one is a file that may be found afterwards, with and without zeros to the written one.
"""

from __future__ import annotations

import os
import tempfile
import threading
import time
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from unittest import mock

from drills.sessions.records import AnsweredRecord
from drills.storage.session_file import SessionFileError, read_session
from drills.storage.studio import Studio
from tests.faults.pupil import recorded_session

PACE = 0.01
"""Seconds between two answers: a hundred times as fast as a pupil."""
ANSWERS = 15


@dataclass
class Disk:
    """What the system was asked to write to one session file, and to keep."""

    content: bytes = b""
    boundaries: list[tuple[int, int]] = field(default_factory=list)
    """How many bytes were written and how many of these synced, after each call."""
    waits: list[float] = field(default_factory=list)
    """For how many ms written bytes were not synced."""
    _synced: int = 0
    _since: float | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def write(self, descriptor: int, content: bytes) -> int:
        count = _write(descriptor, content)
        if _is_session(descriptor):
            with self._lock:
                self.content += bytes(content[:count])
                if b'"answer"' in bytes(content[:count]) and self._since is None:
                    self._since = time.perf_counter()
                self.boundaries.append((len(self.content), self._synced))
        return count

    def fsync(self, descriptor: int) -> None:
        length, since = len(self.content), self._since
        _fsync(descriptor)
        if _is_session(descriptor):
            with self._lock:
                self._synced = max(self._synced, length)
                if since is not None:
                    self.waits.append(1000 * (time.perf_counter() - since))
                    self._since = None
                self.boundaries.append((len(self.content), self._synced))


_write, _fsync = os.write, os.fsync


def _is_session(descriptor: int) -> bool:
    return Path(f"/proc/self/fd/{descriptor}").readlink().suffix == ".jsonl"


class _EnoughError(Exception):
    pass


@dataclass
class Cut:
    """What came of the cuts: files found, answers that were synced and lost, answers in flight."""

    boundaries: int = 0
    files: int = 0
    synced_answers_lost: int = 0
    most_in_flight: int = 0
    unreadable_after_header: int = 0
    waits: list[float] = field(default_factory=list)


def cut_power(seed: int) -> Cut:
    """Play a session, and find every file that a cut at any boundary may leave."""
    disk = Disk()
    with tempfile.TemporaryDirectory() as folder:
        with mock.patch("os.write", disk.write), mock.patch("os.fsync", disk.fsync):
            seen = count(1)

            def show(_: AnsweredRecord) -> None:
                time.sleep(PACE)
                if next(seen) == ANSWERS:
                    raise _EnoughError

            with suppress(_EnoughError):
                recorded_session(Studio(Path(folder)), "Robin", seed, show)
        return _found(disk, Path(folder) / "found.jsonl")


def _found(disk: Disk, path: Path) -> Cut:
    cut = Cut(len(disk.boundaries), waits=disk.waits)
    ends = [n + 1 for n, byte in enumerate(disk.content) if byte == ord("\n")]
    lines = disk.content.splitlines()
    answers = [b'"event":"answer"' in line for line in lines]
    found: dict[int, int] = {}
    for written, synced in disk.boundaries:
        in_flight = sum(a for a, end in zip(answers, ends, strict=True) if synced < end <= written)
        cut.most_in_flight = max(cut.most_in_flight, in_flight)
        for length in range(synced, written + 1):
            found[length] = max(found.get(length, 0), written)
    for length, written in found.items():
        due = sum(a for a, end in zip(answers, ends, strict=True) if end <= length)
        for tail in {b"", bytes(written - length)}:
            path.write_bytes(disk.content[:length] + tail)
            cut.files += 1
            try:
                session = read_session(path)
            except SessionFileError:
                cut.unreadable_after_header += length >= ends[0]
                continue
            kept = sum(isinstance(event, AnsweredRecord) for event in session.events)
            cut.synced_answers_lost += max(0, due - kept)
    return cut
