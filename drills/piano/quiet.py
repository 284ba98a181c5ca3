"""Keeping the system's MIDI libraries from writing to the terminal.

ALSA and JACK write several lines straight to the error stream when there is no sequencer or no
server, which is an everyday state and is reported in one sentence instead.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def quiet_libraries() -> Iterator[None]:
    """Send what is written to file descriptor 2 meanwhile to nowhere."""
    if sys.stderr is not None:
        sys.stderr.flush()
    try:
        kept = os.dup(2)
    except OSError:  # A program started without an error stream has nothing to keep quiet.
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)
