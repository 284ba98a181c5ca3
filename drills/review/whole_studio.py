"""The review of the studio: who practised, who is stuck where, what is slow for everyone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import median

from drills.cards.card import Card, Kind
from drills.review.notes import FEWEST_SESSIONS_FOR_A_CURVE, NoteReview, note_name
from drills.review.pupil import PupilReview
from drills.review.trouble import capital
from drills.text.formatting import decimal, listed, long_day
from landmarks.translation import _

SLOWER_SHARE = 1.2
"""A landmark is slow for a pupil at this many times the pupil's usual note ..."""
OF_PUPILS = 0.8
"""... and slow for everyone if it is so for this share of the pupils who know it ..."""
FEWEST_PUPILS = 4
"""... of whom there are at least so many: by chance alone all four would be in 1 of 16 studios."""


@dataclass(frozen=True)
class LandmarkAcrossPupils:
    """One landmark: each pupil's time as a multiple of the same pupil's usual note."""

    card: Card
    ratios: tuple[tuple[str, float], ...]

    @property
    def values(self) -> tuple[float, ...]:
        """The ratios alone."""
        return tuple(ratio for _pupil, ratio in self.ratios)

    @property
    def middle(self) -> float:
        """The median of the ratios."""
        return median(self.values)

    @property
    def slow_for(self) -> tuple[str, ...]:
        """The pupils for whom it is slow."""
        return tuple(pupil for pupil, ratio in self.ratios if ratio >= SLOWER_SHARE)

    @property
    def is_slow_for_everyone(self) -> bool:
        """Whether it is slow for nearly all of enough pupils."""
        slow, known = len(self.slow_for), len(self.ratios)
        return known >= FEWEST_PUPILS and slow >= OF_PUPILS * known


@dataclass(frozen=True)
class StudioReview:
    """All pupils at `now`, and the landmarks from the slowest to the quickest."""

    now: datetime
    pupils: tuple[PupilReview, ...]
    landmarks: tuple[LandmarkAcrossPupils, ...]

    def practised_sentence(self) -> str:
        """Say who has practised lately, or how far back the latest session lies."""
        absent = [pupil.nickname for pupil in self.pupils if not pupil.sessions_lately]
        count = len(self.pupils)
        if not absent:
            if count == 1:
                nickname = self.pupils[0].nickname
                return _("{name} has practised in the last 14 days.").format(name=nickname)
            message = _("All {count} pupils have practised in the last 14 days.")
            return message.format(count=count)
        if len(absent) < count:
            return _(
                "{practised} of {count} pupils have practised in the last 14 days; not heard of: "
                "{names}."
            ).format(practised=count - len(absent), count=count, names=listed(absent))
        latest = max((p.last_practised for p in self.pupils if p.last_practised), default=None)
        if latest is None:
            return _("There is no session yet.")
        return _(
            "Nobody has practised in the last 14 days: this is how reading stood on {day}."
        ).format(day=long_day(latest))

    def sentence(self) -> str:
        """Say which landmark is slow for everyone, or that none is."""
        slow = [landmark for landmark in self.landmarks if landmark.is_slow_for_everyone]
        if not slow:
            return _("No landmark is slow for everyone.")
        worst = slow[0]
        name, slow_for, known = note_name(worst.card), len(worst.slow_for), len(worst.ratios)
        if slow_for == known:
            message = _(
                "{note} is slow for all {known} pupils: it takes {times} times as long as their "
                "usual note. Teach it anew to all of them."
            )
        else:
            message = _(
                "{note} is slow for {count} of {known} pupils: it takes {times} times as long as "
                "their usual note. Teach it anew to all of them."
            )
        return capital(
            message.format(note=name, count=slow_for, known=known, times=decimal(worst.middle))
        )


def review_studio(pupils: Iterable[PupilReview], now: datetime) -> StudioReview:
    """Put the reviews of all pupils together."""
    reviews = tuple(sorted(pupils, key=lambda review: review.nickname.casefold()))
    landmarks = sorted(_landmarks(reviews), key=lambda landmark: -landmark.middle)
    return StudioReview(now, reviews, tuple(landmarks))


def _landmarks(reviews: Sequence[PupilReview]) -> Iterator[LandmarkAcrossPupils]:
    cards = sorted(
        {
            note.card
            for review in reviews
            for note in review.notes
            if note.card.kind is Kind.LANDMARK
        }
    )
    for card in cards:
        ratios = tuple(
            (review.nickname, ratio)
            for review in reviews
            if (ratio := _ratio(card, review.notes)) is not None
        )
        if ratios:
            yield LandmarkAcrossPupils(card, ratios)


def _ratio(card: Card, notes: Sequence[NoteReview]) -> float | None:
    """Return how many times as long a note takes as the others, None if too little is known.

    It is the median over the sessions in which the note was found: each compares it with the
    other notes of the same day, so that what was learnt since does not count.
    """
    others: dict[datetime, list[float]] = defaultdict(list)
    own: dict[datetime, float] = {}
    for note in notes:
        for point in note.curve:
            if note.card == card:
                own[point.session] = point.seconds
            else:
                others[point.session].append(point.seconds)
    ratios = [time / median(others[day]) for day, time in own.items() if others[day]]
    return median(ratios) if len(ratios) >= FEWEST_SESSIONS_FOR_A_CURVE else None
