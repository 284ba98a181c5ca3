"""Work that may take too long, done in a process of its own that can be stopped."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import TypeVar

from drills.storage.child_process import end_with_parent

Item = TypeVar("Item")


class TookTooLongError(Exception):
    """What was asked for did not come in time, or its process broke down."""


def in_time(work: Callable[[], Iterator[Item]], seconds: float) -> Iterator[Item]:
    """Give what an iterator gives, made and gone through in another process.

    `work`, its items and its errors go from process to process, so they can be pickled; what it
    raises is raised here. TookTooLongError if an item, the first with the start of the process,
    takes more than so many seconds. The process ends with the iterator.
    """
    # Processes that are started anew behave alike on every system, and inherit no window.
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_give, args=(work, theirs), daemon=True)
    process.start()
    theirs.close()
    try:
        while True:
            ours.send(None)
            if not ours.poll(seconds):
                raise TookTooLongError
            item, error, ended = ours.recv()
            if error is not None:
                raise error
            if ended:
                return
            yield item
    except (EOFError, BrokenPipeError):
        raise TookTooLongError from None
    finally:
        process.kill()
        process.join()
        ours.close()


def _give(work: Callable[[], Iterator[Item]], asked: Connection) -> None:
    """Give one item each time that one is asked for."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    end_with_parent()
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
