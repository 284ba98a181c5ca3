"""Work that may take too long or too much, done in a process of its own that can be stopped."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import TypeVar

from drills.storage.child_process import end_with_parent

Item = TypeVar("Item")

MOST_BYTES = 1_000_000_000
"""Of address space that the process may take, where the system keeps to it (POSIX, not macOS).
The longest string quartet of music21's corpus needs a fifth of it (measured: 186 MB)."""


class TookTooLongError(Exception):
    """What was asked for did not come in time, or its process broke down."""


class TookTooMuchError(Exception):
    """What was asked for needs more memory than it may have."""


def run_with_timeout(
    work: Callable[[], Iterator[Item]], seconds: float, most_bytes: int = MOST_BYTES
) -> Iterator[Item]:
    """Yield what an iterator gives, made and gone through in another process.

    `work`, its items and its errors go from process to process, so they can be pickled; what it
    raises is raised here. The process ends with the iterator.

    Raises:
        TookTooLongError: an item, the first with the start of the process, takes more than so
            many seconds, or the process broke down.
        TookTooMuchError: the process needs more memory than `most_bytes`.
    """
    # Processes that are started anew behave alike on every system, and inherit no window.
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_give, args=(work, theirs, most_bytes), daemon=True)
    process.start()
    theirs.close()
    try:
        while True:
            ours.send(None)
            if not ours.poll(seconds):
                raise TookTooLongError
            item, error, ended = ours.recv()
            if isinstance(error, MemoryError):
                raise TookTooMuchError
            if error is not None:
                raise error
            if ended:
                return
            yield item
    except (EOFError, BrokenPipeError, ConnectionResetError):
        raise TookTooLongError from None
    finally:
        process.kill()
        process.join()
        ours.close()


def _give(work: Callable[[], Iterator[Item]], asked: Connection, most_bytes: int) -> None:
    """Return one item each time that one is asked for."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    end_with_parent()
    _limit_memory(most_bytes)
    try:
        asked.recv()
        for item in work():
            asked.send((item, None, False))
            asked.recv()
        asked.send((None, None, True))
    except EOFError:
        return
    except Exception as error:
        asked.send((None, error, False))


def _limit_memory(most_bytes: int) -> None:
    """Let this process take no more address space; Windows has no such limit, macOS ignores it."""
    if sys.platform == "win32":
        return
    import resource

    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    if hard != resource.RLIM_INFINITY:
        most_bytes = min(most_bytes, hard)
    try:
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, hard))
    except (OSError, ValueError):
        return
