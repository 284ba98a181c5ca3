"""Carries out what a session asks to be kept: its file, and what was learnt of the piano."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import datetime

from drills import __version__
from drills.learning.parameters import USUAL
from drills.sessions.effects import Answered, Effect, Ended, PianoChanged, RememberPiano
from drills.sessions.events import Clock, PianoFound
from drills.sessions.records import Header, Record, Use
from drills.storage.effect_records import record_of
from drills.storage.forgotten import ForgottenError, check_not_forgotten, count_forgotten
from drills.storage.fsync_worker import Syncing
from drills.storage.session_file import SessionWriter
from drills.storage.studio import Pupil, Studio
from drills.text.errors import DrillsError
from landmarks.reasons import reason_of
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
        self._forgotten = count_forgotten(studio.folder)
        self._writer: SessionWriter | None = None
        self._syncing: Syncing | None = None

    def carry_out(self, effect: Effect) -> None:
        """Write a record, or remember a piano; showing is the window's part.

        Raises:
            RecordingError: the studio cannot be written to.
        """
        record = record_of(effect)
        try:
            if record is not None:
                self._write(record, effect)
            elif isinstance(effect, RememberPiano):
                self._studio.remember_piano(effect.port, effect.shift)
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

    def _write(self, record: Record, effect: Effect) -> None:
        if self._writer is None or self._syncing is None:
            found = effect.piano if isinstance(effect, PianoChanged) else None
            self._writer = SessionWriter(
                self._pupil.sessions_folder, self._header(found), self._check_not_forgotten
            )
            self._syncing = Syncing(self._writer.sync)
        must_last = isinstance(effect, Answered | Ended)
        if must_last:
            self._writer.keep_in_place()
        self._writer.append(record)
        if must_last:
            self._syncing.request()
        if isinstance(effect, PianoChanged) and effect.change == "found":
            self._remember_used(effect.piano.port)

    def _check_not_forgotten(self) -> None:
        check_not_forgotten(self._studio.folder, self._pupil.nickname, self._forgotten)

    def _trouble(self, error: OSError) -> RecordingError:
        if isinstance(error, ForgottenError):
            return RecordingError(error.strerror)
        return RecordingError(
            _(
                "{sessions_folder}: the session cannot be written here ({reason}); make room or "
                "name another folder, what was written before is kept"
            ).format(sessions_folder=self._pupil.sessions_folder, reason=reason_of(error))
        )

    def _remember_used(self, port: str) -> None:
        shift = self._studio.shift_of(port)
        if shift is not None:
            self._studio.remember_piano(port, shift)

    def _header(self, piano: PianoFound | None) -> Header:
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
            parameters=USUAL.version,
        )
