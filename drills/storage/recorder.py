"""Carries out what a session asks to be kept: its file, and what was learnt of the piano."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import datetime

from drills import __version__
from drills.sessions.records import Answered, Clock, Ended, Header, PianoChanged, Record, Use
from drills.sessions.view import Effect, RememberPiano, Write
from drills.storage.fsync_worker import Syncing
from drills.storage.session_file import SessionWriter
from drills.storage.studio import Pupil, Studio
from drills.text.errors import DrillsError
from landmarks.sets import LandmarkSet
from landmarks.translation import _


@dataclass(frozen=True)
class SessionStart:
    """When a session started, by the time of day (aware) and by the monotonic clock (ns)."""

    started: datetime
    started_ns: int


class RecordingError(DrillsError, OSError):
    """The session cannot be kept; its one sentence says what, where and what to do."""


class Recorder:
    """Writes the session's file from its first record on."""

    def __init__(
        self,
        studio: Studio,
        pupil: Pupil,
        landmarks: LandmarkSet,
        seed: int,
        start: SessionStart,
        keys_timed_by: Clock = "window",
        use: Use = "practice",
    ) -> None:
        """Prepare to record; `keys_timed_by` is the clock of keys as long as no piano is found."""
        self._studio = studio
        self._pupil = pupil
        self._landmarks = landmarks
        self._seed = seed
        self._start = start
        self._keys_timed_by = keys_timed_by
        self._use = use
        self._writer: SessionWriter | None = None
        self._syncing: Syncing | None = None

    def carry_out(self, effect: Effect) -> None:
        """Write a record, or remember a piano; showing is the window's part.

        RecordingError if the studio cannot be written to.
        """
        try:
            match effect:
                case Write(record):
                    self._write(record)
                case RememberPiano(port, shift):
                    self._studio.remember_piano(port, shift)
        except OSError as error:
            raise self._trouble(error) from None

    def close(self) -> None:
        """Close the session's file. RecordingError if its last line cannot be written."""
        try:
            if self._syncing is not None:
                self._syncing.close()
            if self._writer is not None:
                self._writer.close()
        except OSError as error:
            raise self._trouble(error) from None

    def _write(self, record: Record) -> None:
        if self._writer is None or self._syncing is None:
            found = record if isinstance(record, PianoChanged) else None
            self._writer = SessionWriter(self._pupil.sessions_folder, self._header(found))
            self._syncing = Syncing(self._writer.sync)
        if isinstance(record, Answered | Ended):
            self._writer.keep_in_place()
        self._writer.append(record)
        if isinstance(record, Answered | Ended):
            self._syncing.request()
        if isinstance(record, PianoChanged) and record.change == "found":
            self._remember_used(record.port)

    def _trouble(self, error: OSError) -> RecordingError:
        return RecordingError(
            _(
                "{sessions_folder}: the session cannot be written here ({reason}); make room or "
                "name another folder, what was written before is kept"
            ).format(sessions_folder=self._pupil.sessions_folder, reason=error.strerror)
        )

    def _remember_used(self, port: str) -> None:
        shift = self._studio.shift_of(port)
        if shift is not None:
            self._studio.remember_piano(port, shift)

    def _header(self, piano: PianoChanged | None) -> Header:
        return Header(
            session=str(uuid.uuid4()),
            pupil=self._pupil.nickname,
            started=self._start.started,
            clock_ns=self._start.started_ns,
            program=__version__,
            port=None if piano is None else piano.port,
            clock=self._keys_timed_by if piano is None else piano.clock,
            set=self._landmarks.name,
            seed=self._seed,
            use=self._use,
        )
