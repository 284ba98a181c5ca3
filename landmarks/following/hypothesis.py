"""One account of what was heard so far, and how it can go on with the next press.

A score note sounds once about the time it is due, or is left out; keys of no note come between.
An account is weighed as such a point process is: by the density of each note's time, the share of
notes left out, and the rate of extra keys.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from landmarks.following.events import ScoreEvents
from landmarks.following.parameters import FollowingParameters
from landmarks.following.timeline import (
    Timeline,
    begin_timeline,
    move_density,
    normal_density,
    wait_density,
)

_AHEAD = 8
_BEHIND = 700.0
_AWAITED = 8
_NEAR = 2
# Of keys struck by mistake most lie beside a key that was meant (Repp 1996, Music Perception 14:
# wrong notes are mostly close in pitch); eight of them here, or any of the rest.
_NEAR_KEY = 0.7 / 8
_FAR_KEY = 0.3 / 80


class Hypothesis(NamedTuple):
    """An account: the furthest event reached, what was passed over up to it, and the time kept.

    `settled` is the log of its probability without the charge for what is pending, `weight` with
    it; `pending` are notes up to `event` not heard yet; `at` is the note last heard, `played` the
    note that the latest press plays, None for an extra key.
    """

    event: int
    pending: tuple[int, ...]
    timeline: Timeline | None
    at: int | None
    played: int | None
    settled: float
    weight: float


def before_beginning(weight: float) -> Hypothesis:
    """Return the account of a player who is about to begin with the first note."""
    return Hypothesis(-1, (), None, None, None, weight, weight)


class Continuation:
    """How accounts go on; one for a score and its parameters."""

    def __init__(self, events: ScoreEvents, facts: FollowingParameters) -> None:
        """Make ready for the events of a score."""
        self._events = events
        self._facts = facts
        self._near = tuple(self._near_keys(event) for event in range(len(events.onsets)))
        self._log_left_out = math.log(facts.left_out)

    def landed(self, note: int, ms: float, before: Timeline | None, weight: float) -> Hypothesis:
        """Return the account of a player who has just jumped to a note."""
        events = self._events
        event = events.event_of[note]
        onset = events.times[event]
        timeline = (
            before.resumed(onset, ms, self._facts)
            if before is not None
            else begin_timeline(onset, ms, self._facts)
        )
        pending = tuple(other for other in events.members[event] if other != note)
        return Hypothesis(event, pending, timeline, note, note, weight, weight)

    def after(
        self, account: Hypothesis, key: int, ms: float, wait: float, last_key: int | None
    ) -> Iterator[Hypothesis]:
        """Yield the accounts that an account can become by a press `wait` ms after `last_key`."""
        events = self._events
        for note in account.pending:
            if events.keys[note] == key:
                yield self._with_pending(account, note, ms)
        first = account.event + 1
        for event in range(first, min(first + _AHEAD, len(events.onsets))):
            note_there = events.note_at(event, key)
            if note_there is not None:
                yield self._with_next(account, note_there, event, ms, wait)
        again = events.note_at(account.event, key) if account.event >= 0 else None
        if again is not None:
            pause = move_density(wait, self._facts.jump_pause)
            weight = account.weight + math.log(self._facts.begun_again * pause + 1e-12)
            yield self.landed(again, ms, account.timeline, weight)
        yield self._with_extra(account, key, wait, last_key)

    def _with_pending(self, account: Hypothesis, note: int, ms: float) -> Hypothesis:
        timeline = account.timeline
        assert timeline is not None
        onset = self._events.times[self._events.event_of[note]]
        density, kept = self._placed(timeline, onset, note, ms, self._facts.stop_within)
        pending = tuple(other for other in account.pending if other != note)
        return self._weighed(account, account.event, pending, kept, note, density)

    def _with_next(
        self, account: Hypothesis, note: int, event: int, ms: float, wait: float
    ) -> Hypothesis:
        events, facts = self._events, self._facts
        onset = events.times[event]
        if account.timeline is None:
            kept = begin_timeline(onset, ms, facts)
            density = wait_density(wait, facts.unforetold)
        else:
            moved = account.timeline.moved(onset, facts)
            density, kept = self._placed(moved, onset, note, ms, facts.stop)
            kept = kept.accustomed(ms - moved.time, moved.time - account.timeline.time, facts)
        passed = [
            other
            for between in range(account.event + 1, event)
            for other in events.members[between]
        ]
        there = [other for other in events.members[event] if other != note]
        return self._weighed(
            account, event, (*account.pending, *passed, *there), kept, note, density
        )

    def _with_extra(
        self, account: Hypothesis, key: int, wait: float, last_key: int | None
    ) -> Hypothesis:
        facts = self._facts
        after_extra = account.played is None and account.at is not None
        share = facts.further_extra if after_extra else facts.extra
        near = self._near[max(account.event, 0)]
        chance = share * (_NEAR_KEY if key in near else _FAR_KEY)
        if account.event >= 0 and self._events.note_at(account.event, key) is not None:
            chance = max(chance, facts.further_extra / 4 if after_extra else facts.struck_again)
        density = chance * wait_density(wait, facts.unforetold)
        if last_key is not None and 0 < abs(key - last_key) <= _NEAR:
            beside = facts.brushed / (2 * _NEAR)
            density += beside * wait_density(wait, facts.brushed_middle)
        gain = math.log(density)
        return account._replace(
            played=None, settled=account.settled + gain, weight=account.weight + gain
        )

    def _placed(
        self, timeline: Timeline, onset: float, note: int, ms: float, stop: float
    ) -> tuple[float, Timeline]:
        """Return the density of a press for a note, and the timeline corrected by it."""
        facts = self._facts
        due = timeline.time + timeline.quarter * (onset - timeline.onset)
        own = facts.press_scatter**2
        if self._events.is_grace[note]:
            due -= facts.grace_lead
            own = facts.grace_scatter**2
        late = ms - due
        variance = timeline.variance_at(onset) + own
        wide = variance * facts.uneven_widening**2
        even = (1 - facts.uneven - facts.stop) * normal_density(late, variance)
        uneven = facts.uneven * normal_density(late, wide)
        waited = timeline.onset == onset
        stopped = stop * wait_density(late, facts.stop_middle) if waited else 0.0
        density = even + uneven + stopped
        if stopped > even + uneven:
            return density, timeline.resumed(timeline.onset, ms, facts)
        if uneven > even:
            widening = facts.uneven_widening**2
            return density, timeline.widened(widening).heard(onset, late, own * widening)
        return density + 1e-9, timeline.heard(onset, late, own)

    def _weighed(
        self,
        account: Hypothesis,
        event: int,
        pending: tuple[int, ...],
        timeline: Timeline,
        note: int,
        density: float,
    ) -> Hypothesis:
        facts, events = self._facts, self._events
        settled = account.settled + math.log((1 - facts.left_out) * (density + 1e-12))
        charge = 0.0
        kept = []
        for other in pending:
            quarters = timeline.onset - events.times[events.event_of[other]]
            lag = quarters * timeline.quarter
            if lag > _BEHIND or event - events.event_of[other] > _AWAITED:
                settled += self._log_left_out
                continue
            kept.append(other)
            if lag > 0:
                awaited = math.exp(-lag / facts.order_lag)
                charge += math.log(facts.left_out + (1 - facts.left_out) * awaited)
        return Hypothesis(event, tuple(kept), timeline, note, note, settled, settled + charge)

    def _near_keys(self, event: int) -> frozenset[int]:
        events = self._events
        last = min(event + 2, len(events.onsets))
        return frozenset(
            events.keys[note] + away
            for here in range(event, last)
            for note in events.members[here]
            for away in range(-_NEAR, _NEAR + 1)
        )
