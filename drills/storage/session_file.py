"""Session files: one JSON Lines file a session, appended and flushed line by line.

The first line is the `Header`, every further line one record with `t`, the milliseconds since
the header's `clock_ns` (3 decimals). The form is described in
`drills/sessions/SESSION_FILE.md`. A file that was cut short gives up every whole line.
"""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import msgspec

from drills.cards.card import Card, parse_card
from drills.learning.response import LineAnswer, Response
from drills.sessions.line_records import LineAnsweredRecord
from drills.sessions.records import FORMAT, AnsweredRecord, Header, Record
from drills.storage.files import (
    LARGEST_SESSION,
    LONGEST_LINE,
    create_privately,
    lines_of,
    make_private,
    open_plain,
    open_to_append,
    replace_privately,
    sync_folder,
    write_whole,
)
from drills.text.errors import DrillsError
from landmarks.translation import _


@dataclass(frozen=True)
class Session:
    """A session file as read: its header, its events, and the answers that count.

    `responses` are those to cards, `line_answers` those to the notes of lines that were read.
    """

    header: Header
    events: tuple[Record, ...]
    responses: tuple[Response, ...]
    line_answers: tuple[LineAnswer, ...] = ()


class SessionFileError(DrillsError, ValueError):
    """A file that is no session file; its one sentence says what, where and what to do."""


_UUID = re.compile("[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_YEARS = 1970, 9000
_NOT_READABLE = (msgspec.DecodeError, UnicodeDecodeError, RecursionError)
_encoder = msgspec.json.Encoder()
_header_decoder = msgspec.json.Decoder(Header)
_record_decoder = msgspec.json.Decoder(Record)


def session_file_name(header: Header) -> str:
    """Return the name of a session's file: its start time, then the beginning of its id."""
    return f"{header.started:%Y-%m-%dT%H-%M-%S}_{header.session[:8]}.jsonl"


class SessionWriter:
    """Appends a session's lines to its file, each handed to the system as it is written.

    OSError if the folder cannot be written to. What was written is safe from the end of the
    program at once, and from the end of the machine after `sync`.
    """

    def __init__(
        self, folder: Path, header: Header, before_anew: Callable[[], None] = lambda: None
    ) -> None:
        """Create the file in `folder`, readable by its owner only, and write the header.

        `before_anew` is called before a file that was taken away is written anew, and raises
        OSError if it must not be.
        """
        self.path = folder / session_file_name(header)
        self._before_anew = before_anew
        self._descriptor = create_privately(self.path)
        fields = msgspec.to_builtins(header, builtin_types=(datetime,))
        try:
            self._write(fields | {"started": header.started.isoformat()})
        except OSError:
            os.close(self._descriptor)
            self.path.unlink()
            raise
        sync_folder(folder)

    def append(self, record: Record) -> None:
        """Write one record as one line."""
        self._write(record)

    def sync(self) -> None:
        """Have all that was written on the disk; may take long, and may be called by a thread."""
        os.fsync(self._descriptor)

    def keep_in_place(self) -> None:
        """Write the file anew, all of it, if somebody took it or its folder away meanwhile."""
        with contextlib.suppress(FileNotFoundError):
            if os.path.samestat(self.path.stat(), os.fstat(self._descriptor)):
                return
        self._before_anew()
        make_private(self.path.parent)
        os.lseek(self._descriptor, 0, os.SEEK_SET)
        with os.fdopen(os.dup(self._descriptor), "rb") as taken_away:
            replace_privately(self.path, taken_away.read())
        again = open_to_append(self.path)
        # The number stays the same, for a thread may be at `sync`.
        os.dup2(again, self._descriptor)
        os.close(again)

    def close(self) -> None:
        """Close the file, all of it on the disk; nothing can be appended any more."""
        try:
            self.keep_in_place()
            self.sync()
        finally:
            os.close(self._descriptor)

    def _write(self, line: Record | dict[str, object]) -> None:
        write_whole(self._descriptor, _encoder.encode(line) + b"\n")


def read_session(path: str | Path) -> Session:
    """Return a session as its file tells it, complete or cut short.

    Lines that a later version added, and those that hold what cannot be, are passed over.

    Raises:
        SessionFileError: it is no session file, or of a later version's kind that cannot be read.
        OSError: it cannot be opened or is too large.
    """
    with open_plain(Path(path), LARGEST_SESSION) as file:
        header = read_header(file.readline(LONGEST_LINE), path)
        events = tuple(_records(lines_of(file)))
    return Session(
        header, events, tuple(_responses(header, events)), tuple(_line_answers(header, events))
    )


def read_header(line: bytes, path: str | Path) -> Header:
    """Return a session file's header from its first line; `path` is for the error's sentence."""
    try:
        header = _header_decoder.decode(line)
    except _NOT_READABLE:
        header = None
    if header is None or not _is_usable(header):
        raise SessionFileError(
            _(
                "{path}: line 1 is not the header of a session file; choose a file that "
                "landmark-drills wrote"
            ).format(path=path)
        )
    return header


def _is_usable(header: Header) -> bool:
    """Return whether a header can be one; its id and date go into file names and sums of time."""
    return (
        header.format == FORMAT
        and header.started.tzinfo is not None
        and _YEARS[0] <= header.started.year <= _YEARS[1]
        and _UUID.fullmatch(header.session) is not None
    )


def _records(lines: Iterator[bytes]) -> Iterator[Record]:
    for line in lines:
        try:
            yield _record_decoder.decode(line)
        except _NOT_READABLE:
            continue


def _responses(header: Header, events: tuple[Record, ...]) -> Iterator[Response]:
    for event in events:
        if isinstance(event, AnsweredRecord) and event.counted and event.ms > 0:
            card = _card(event.id)
            if card is not None:
                yield Response(
                    card=card, at=_moment(header, event.t), seconds=event.ms / 1000,
                    correct=event.verdict == "exact", played=event.played,
                )  # fmt: skip


def _line_answers(header: Header, events: tuple[Record, ...]) -> Iterator[LineAnswer]:
    for event in events:
        if isinstance(event, LineAnsweredRecord):
            card = _card(event.id)
            if card is not None:
                late, low, high = (_seconds(ms) for ms in (event.ms, event.low, event.high))
                yield LineAnswer(
                    card, _moment(header, event.t), event.verdict == "exact", event.played,
                    late, low, high,
                )  # fmt: skip


def _card(card_id: str) -> Card | None:
    """Return the card of an id; None for one of a later version's kind."""
    try:
        return parse_card(card_id)
    except ValueError:
        return None


def _moment(header: Header, t: float) -> datetime:
    return header.started + timedelta(milliseconds=t)


def _seconds(ms: float | None) -> float | None:
    return None if ms is None else ms / 1000
