"""Whether the MIDI server that a client was made at is still there.

A JACK client whose server has ended goes on listing the ports there were and says nothing
(measured: RtMidi 5.0 on JACK 1.9.21); one that is closed after a new client was made crashes the
program. Yet client and server talk over a socket, and a socket whose other end has gone says so.
"""

from __future__ import annotations

import contextlib
import os
import select
import stat
from pathlib import Path

# The open files of this process (Linux and macOS); Windows has no such list, and no such server.
OPEN_FILES = Path("/dev/fd")


class ServerLine:
    """The sockets that were opened between its making and `watch_new_sockets`."""

    def __init__(self) -> None:
        """Remember which files are open before the client is made."""
        self._before = _open_files()
        self._sockets: list[int] = []

    def watch_new_sockets(self) -> None:
        """Watch the sockets opened since: those of the client."""
        for number in _open_files() - self._before:
            # One that was closed meanwhile, as the list itself, is none.
            with contextlib.suppress(OSError):
                if stat.S_ISSOCK(os.fstat(number).st_mode):
                    # A number of our own stays valid when the library closes its own.
                    self._sockets.append(os.dup(number))

    def was_cut(self) -> bool:
        """Say whether the other end of any of them has gone."""
        return any(_hung_up(each) for each in self._sockets)

    def close(self) -> None:
        """Watch no longer."""
        for each in self._sockets:
            os.close(each)
        self._sockets.clear()


def _open_files() -> set[int]:
    if not OPEN_FILES.is_dir():
        return set()
    return {int(path.name) for path in OPEN_FILES.iterdir()}


def _hung_up(connection: int) -> bool:
    poll = select.poll()
    poll.register(connection, 0)
    return bool(poll.poll(0))
