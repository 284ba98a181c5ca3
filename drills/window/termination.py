"""How the window answers when the system asks the program to end (SIGTERM)."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

import pygame


def close_when_asked() -> None:
    """Have SIGTERM close the window as its own button does. To be called before it opens."""
    signal.signal(signal.SIGTERM, _close)


@contextmanager
def ending_at_once() -> Iterator[None]:
    """Do what may be held up by a driver, which gives no turn to anything else in the program.

    SIGTERM then ends the program without another word; what was played is in its file already.
    """
    before = signal.getsignal(signal.SIGTERM)
    if before is not _close:
        yield
        return
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


@contextmanager
def ending_within(seconds: float) -> Iterator[None]:
    """Do the last thing; the program ends after so many seconds even if that is held up.

    It ends by SIGALRM, which needs no turn of the program's own; on a system without it, it waits.
    """
    if hasattr(signal, "setitimer"):
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        if hasattr(signal, "setitimer"):
            signal.setitimer(signal.ITIMER_REAL, 0)


def _close(number: int, frame: FrameType | None) -> None:
    if pygame.display.get_init():
        pygame.event.post(pygame.event.Event(pygame.QUIT))
