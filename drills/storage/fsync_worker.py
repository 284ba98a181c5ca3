"""A thread that brings what was written to the disk, so that no frame waits for it."""

from __future__ import annotations

import threading
from collections.abc import Callable


class Syncing:
    """Calls `sync` soon after each request; requests that come meanwhile are met by one call."""

    def __init__(self, sync: Callable[[], None]) -> None:
        """Begin; `sync` waits for the disk and raises OSError if that fails."""
        self._sync = sync
        self._wanted = threading.Event()
        self._ended = False
        self._trouble: OSError | None = None
        self._thread = threading.Thread(target=self._sync_on, name="disk", daemon=True)
        self._thread.start()

    def request(self) -> None:
        """Have all that was written so far on the disk soon. OSError if that failed before."""
        if self._trouble is not None:
            raise self._trouble
        self._wanted.set()

    def close(self) -> None:
        """Wait until the last request is met."""
        self._ended = True
        self._wanted.set()
        self._thread.join()

    def _sync_on(self) -> None:
        while not self._ended:
            self._wanted.wait()
            self._wanted.clear()
            try:
                self._sync()
            except OSError as error:
                self._trouble = error
                return
