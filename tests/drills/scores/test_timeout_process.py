"""Work in a process of its own: what it gives, what it raises, and that it is stopped in time."""

import os
import sys
import time
from functools import partial

import pytest

from drills.scores.timeout_process import (
    MOST_BYTES,
    TookTooLongError,
    TookTooMuchError,
    run_with_timeout,
)

SECONDS = 20.0


def counting(count, pause=0.0):
    for number in range(count):
        time.sleep(pause)
        yield number


def failing():
    yield 1
    raise ValueError("no more")


def breaking_down():
    yield 1
    os._exit(9)


def own_process():
    yield os.getpid()


def test_what_is_made_comes_in_its_order_from_another_process():
    assert list(run_with_timeout(partial(counting, 4), SECONDS)) == [0, 1, 2, 3]
    (process,) = run_with_timeout(own_process, SECONDS)
    assert process != os.getpid()


def test_what_is_raised_there_is_raised_here_after_what_came_before():
    given = run_with_timeout(failing, SECONDS)
    assert next(given) == 1
    with pytest.raises(ValueError, match="no more"):
        next(given)


def test_what_takes_too_long_is_stopped():
    with pytest.raises(TookTooLongError):
        next(run_with_timeout(partial(counting, 1, pause=600), 1.0))


def test_a_process_that_breaks_down_is_told_of():
    given = run_with_timeout(breaking_down, SECONDS)
    assert next(given) == 1
    with pytest.raises(TookTooLongError):
        next(given)


def test_the_process_ends_when_no_more_is_asked_for():
    given = run_with_timeout(partial(counting, 100), SECONDS)
    next(given)
    given.close()
    assert list(given) == []


def filling_memory(count):
    yield len(bytearray(count))


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="keeps to no such limit")
def test_what_needs_too_much_memory_is_stopped():
    assert list(run_with_timeout(partial(filling_memory, 1000), SECONDS)) == [1000]
    with pytest.raises(TookTooMuchError):
        next(run_with_timeout(partial(filling_memory, MOST_BYTES), SECONDS))
