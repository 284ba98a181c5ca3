"""Troubles of absence: what was forgotten over a gap, and too little practice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import median

from drills.cards.card import Card
from drills.review.collect import PupilRecord
from drills.review.statistics import Estimate, median_of, share_difference
from drills.review.trouble import Finding, Reading, Trouble, accuracy_of, capital, percent
from drills.text.formatting import day_of, decimal, long_day
from landmarks.translation import _

LONG_GAP = timedelta(days=10)
"""Longer than the week from lesson to lesson with a few days' grace."""
AROUND_GAP_SESSIONS = 4
"""How many sessions before the gap are compared with how many of the latest after it."""
FRESH_SESSIONS = 2
SLOWER_AFTER_GAP = 1.15
QUIET_DAYS = timedelta(days=14)
JUST_BEGUN = timedelta(days=7)
"""In the first week, from lesson to lesson, nobody can have practised little."""


def forgotten(
    readings: Sequence[Reading], sessions: Sequence[datetime], recent: Sequence[Reading]
) -> Iterator[Finding]:
    """Compare the notes known before the longest recent gap with the same notes after it."""
    begun = min((reading.given.session for reading in recent), default=None)
    gaps = [
        (later - earlier, earlier, later)
        for earlier, later in pairwise(sessions)
        if begun is not None and later > begun
    ]
    gap, last, first = max(gaps, default=(timedelta(), None, None))
    if gap < LONG_GAP or last is None or first is None:
        return
    begun_after = _sessions_after(first, sessions)
    start = sessions[max(0, sessions.index(last) + 1 - AROUND_GAP_SESSIONS)]
    before = [reading for reading in readings if start <= reading.given.session <= last]
    known = {reading.card for reading in before}
    after = [r for r in readings if r.given.session in begun_after and r.card in known]
    met_again = {reading.card for reading in after}
    before = [reading for reading in before if reading.card in met_again]
    if not before or not after:
        return
    accuracy_before, accuracy_after = accuracy_of(before), accuracy_of(after)
    fall = share_difference(accuracy_before, accuracy_after)
    slower = _slowing(before, after)
    fell = fall.high is not None and fall.high < 0
    slowed = slower is not None and slower.low is not None and slower.low > SLOWER_AFTER_GAP
    if not fell and not slowed:
        return
    told = _("right answers went from {before} to {after}").format(
        before=percent(accuracy_before), after=percent(accuracy_after)
    )
    if slowed and slower is not None:
        told = _("{told} and times grew to {times} times what they were").format(
            told=told, times=decimal(slower.value)
        )
    evidence = _("After {days} days without practice, from {last} to {first}, {told}.")
    yield Finding(
        Trouble.GAP,
        evidence.format(days=gap.days, last=day_of(last), first=day_of(first), told=told),
        _("Go back to the landmarks already met, a few a day, before anything new"),
        _("after {days} days without practice {told}").format(days=gap.days, told=told),
    )


def _sessions_after(first: datetime, sessions: Sequence[datetime]) -> frozenset[datetime]:
    """Return the sessions that tell what the gap has cost: the first two, while it is fresh."""
    after = [session for session in sessions if session >= first]
    fresh = len(after) <= AROUND_GAP_SESSIONS
    return frozenset(after[:FRESH_SESSIONS] if fresh else after[-AROUND_GAP_SESSIONS:])


def _slowing(before: Sequence[Reading], after: Sequence[Reading]) -> Estimate | None:
    """Return the median of the times after, each as a multiple of its note's median before."""
    usual: dict[Card, list[float]] = defaultdict(list)
    for reading in before:
        if reading.given.right:
            usual[reading.card].append(reading.given.seconds)
    ratios = [
        reading.given.seconds / median(usual[reading.card])
        for reading in after
        if reading.given.right and usual[reading.card]
    ]
    return median_of(ratios) if ratios else None


def has_just_begun(record: PupilRecord, now: datetime) -> bool:
    """Return whether all sessions are of the last week, so that it is too early to say anything."""
    whole = record.session_count <= len(record.sessions)
    return whole and all(now - session.started < JUST_BEGUN for session in record.sessions)


def quiet(record: PupilRecord, now: datetime) -> Iterator[Finding]:
    """Find that there were fewer than two sessions lately, unless she has only just begun."""
    lately = [s for s in record.sessions if now - QUIET_DAYS <= s.started <= now]
    if len(lately) >= 2 or has_just_begun(record, now):
        return
    last = record.sessions[-1].started
    day = day_of(last) if last.year == now.year else long_day(last)
    told = _("the last session was on {day}").format(day=day)
    yield Finding(
        Trouble.QUIET,
        f"{capital(told)}.",
        _("Agree on a fixed place in the day for five minutes of practice"),
        told,
    )
