"""Work aside from the window: whatever ends it is its state, and nothing vanishes."""

from __future__ import annotations

import threading
import time

import pytest

from drills.app.progress import CancelledError
from drills.app.user_error import UserError
from drills.sessions.events import Stop, TimePassed
from drills.window.pages.waiting import WaitingPage
from drills.window.worker import Done, Failed, Running, Worker

SECONDS = 10


def ended(worker):
    deadline = time.monotonic() + SECONDS
    while isinstance(worker.state, Running):
        assert time.monotonic() < deadline
        time.sleep(0.001)
    return worker.state


def test_work_that_is_done_gives_its_value():
    assert ended(Worker(lambda progress: 7)) == Done(7)


@pytest.mark.parametrize(
    "error", [UserError("the shelf is empty"), ZeroDivisionError(), SystemExit(2), MemoryError()]
)
def test_whatever_ends_the_work_is_told(error):
    def work(progress):
        raise error

    assert ended(Worker(work)) == Failed(error)


def test_progress_is_seen_while_the_work_goes_on():
    told, go_on = threading.Event(), threading.Event()

    def work(progress):
        advance = progress.counter(3)
        advance()
        told.set()
        assert go_on.wait(SECONDS)
        return "read"

    worker = Worker(work)
    assert told.wait(SECONDS)
    assert worker.state == Running(1, 3)
    go_on.set()
    assert ended(worker) == Done("read")


@pytest.mark.parametrize("leave", [WaitingPage.leave, lambda page: page.take(Stop("closed"), 0)])
def test_leaving_the_page_or_closing_the_window_stops_the_work(leave):
    stopped = threading.Event()

    def work(progress):
        advance = progress.counter(10**9)
        try:
            while True:
                advance()
        except CancelledError:
            stopped.set()
            raise

    page = WaitingPage(work)
    leave(page)
    assert stopped.wait(SECONDS)
    page.take(TimePassed(), 0)
    assert not isinstance(page.outcome, Done)


def test_the_page_is_over_when_the_work_is_and_shows_how_far_it_has_come():
    told, go_on = threading.Event(), threading.Event()

    def work(progress):
        advance = progress.counter(4)
        advance()
        told.set()
        assert go_on.wait(SECONDS)

    page = WaitingPage(work)
    before = len(page.layers(800, 600))
    assert told.wait(SECONDS)
    page.take(TimePassed(), 0)
    bar, filled = page.page(800, 600)[before - len(page.layers(800, 600)) :] or (None, None)
    assert filled.box.width == bar.box.width // 4
    go_on.set()
    deadline = time.monotonic() + SECONDS
    while not page.over:
        assert time.monotonic() < deadline
        page.take(TimePassed(), 0)
    assert page.outcome == Done(None)
