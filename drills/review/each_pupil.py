"""Reviews several pupils, on all cores where there is enough to read."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from datetime import datetime
from multiprocessing import get_context
from pathlib import Path

from drills.learning.fluency import USUAL, Fluency
from drills.learning.prior_knowledge.observations import Observations
from drills.review.collect import collect
from drills.review.pupil import PupilReview, review_pupil
from drills.storage.child_process import end_with_parent
from landmarks.sets import LandmarkSet
from landmarks.translation import activate, active_languages

FEW_FILES = 500
"""Up to so many session files one process is done before others would have begun."""


@dataclass(frozen=True)
class SessionFiles:
    """The session files of one pupil, and what is set down of her beginnings."""

    nickname: str
    paths: tuple[Path, ...]
    fluency: Fluency = USUAL
    beginnings: Observations | None = None
    landmarks: LandmarkSet | None = None
    """The landmark set of the pupil's settings, with its steps; None for the usual one."""


def review_pupils(
    pupils: Sequence[SessionFiles],
    now: datetime,
    since: datetime | None = None,
    advance: Callable[[], None] = lambda: None,
    cores: int | None = None,
) -> list[PupilReview]:
    """Review pupils at `now`, in the order given; `since` is the last lesson.

    `advance` is called once a file. At most `cores` processes read, as many as there are cores
    unless told.
    """
    files = sum(len(pupil.paths) for pupil in pupils)
    processes = min(cores or _cores(), len(pupils))
    if processes < 2 or files <= FEW_FILES:
        return [_review(pupil, now, since, advance) for pupil in pupils]
    return _review_side_by_side(pupils, now, since, advance, processes)


def _review_side_by_side(
    pupils: Sequence[SessionFiles],
    now: datetime,
    since: datetime | None,
    advance: Callable[[], None],
    processes: int,
) -> list[PupilReview]:
    """Review an equal part of the pupils here, at once, and leave the others to new processes."""
    longest_first = sorted(range(len(pupils)), key=lambda place: -len(pupils[place].paths))
    own = longest_first[::processes]
    # Processes that are started anew behave alike on every system, and inherit no window.
    context = get_context("spawn")
    pool = ProcessPoolExecutor(processes - 1, context, _begin_process, (active_languages(),))
    try:
        places = {
            pool.submit(_review, pupils[place], now, since): place
            for place in longest_first
            if place not in own
        }
        found = {place: _review(pupils[place], now, since, advance) for place in own}
        for future in as_completed(places):
            found[places[future]] = future.result()
            for _ in pupils[places[future]].paths:
                advance()
    finally:
        pool.shutdown(cancel_futures=True)
    return [found[place] for place in range(len(pupils))]


def _review(
    pupil: SessionFiles,
    now: datetime,
    since: datetime | None,
    advance: Callable[[], None] = lambda: None,
) -> PupilReview:
    record = collect(pupil.nickname, pupil.paths, now, advance)
    return review_pupil(record, now, since, pupil.fluency, pupil.beginnings, pupil.landmarks)


def _begin_process(languages: Sequence[str]) -> None:
    """Speak as the parent does, leave interrupts to it, and end when it ends."""
    end_with_parent()
    activate(*languages)
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _cores() -> int:
    """Return how many cores this process may use."""
    allowed = getattr(os, "sched_getaffinity", None)
    return len(allowed(0)) if allowed else os.cpu_count() or 1
