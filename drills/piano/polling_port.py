"""An input port that is asked for messages by a thread of its own.

Callbacks from a driver's thread would come sooner, by a millisecond or two, but they wait for the
interpreter: a JACK cycle then waits with them, and opening or closing a port while a key is
pressed can lock up the program, since the interpreter waits for the driver and the driver for the
interpreter. A driver that only fills its queue waits for nobody, and its times are its own.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

ASK_EVERY = 0.002  # seconds


class PollingPort:
    """Calls `ask`, which delivers what has arrived, until closed."""

    def __init__(self, ask: Callable[[int], None], close: Callable[[], None]) -> None:
        """Begin to ask; `close` closes the port itself, once nobody asks any more.

        `ask` is given the monotonic ns at which it began to look the last time: what it finds
        came later.
        """
        self._ask = ask
        self._close = close
        self.failed = False
        self._closed = threading.Event()
        self._thread = threading.Thread(target=self._ask_on, name="piano", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Stop delivering and close the port; no message is delivered after this returns."""
        self._closed.set()
        self._thread.join()
        self._close()

    def _ask_on(self) -> None:
        now = time.monotonic_ns()
        while not self._closed.is_set():
            before, now = now, time.monotonic_ns()
            try:
                self._ask(before)
            except OSError:
                self.failed = True
                return
            time.sleep(ASK_EVERY)
