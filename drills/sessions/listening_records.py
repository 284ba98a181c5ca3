"""The records of a session file that tell what was listened for, what sounded, what was heard."""

from __future__ import annotations

from typing import Annotated, ClassVar

from drills.learning.prior_knowledge.finding import Band, Item
from drills.sessions.record_fields import Count, EventRecord, KeyNumber, Milliseconds, about

_ITEMS = [item.value for item in Item]


class ItemBegunRecord(EventRecord, frozen=True, tag="listen", kw_only=True):
    """The pupil is listened to from here on (since version 5)."""

    t: Annotated[Milliseconds, about("when the item was on the screen", 130.2)]
    item: Annotated[
        str,
        about(
            "`pulse` (eight beats, then she goes on), `echo` (a rhythm played back) or "
            "`higher-lower` (two tones; she moves the same way)",
            "pulse",
            enum=_ITEMS,
        ),
    ]
    attempt: Annotated[Count, about("how often it was begun in this session", 1)]


class ToneSoundedRecord(EventRecord, frozen=True, tag="tone", kw_only=True):
    """The program sounds a key (since version 5)."""

    t: Annotated[
        Milliseconds,
        about("when it was handed to the loudspeaker, which adds a delay of its own", 4380.0),
    ]
    key: Annotated[KeyNumber, about("which key", 72)]


class ItemHeardRecord(EventRecord, frozen=True, tag="heard", kw_only=True):
    """What was heard of an item (since version 5)."""

    t: Annotated[Milliseconds, about("when it was over", 21730.5)]
    item: Annotated[str, about("which item", "pulse", enum=_ITEMS)]
    band: Annotated[
        str,
        about(
            "`there`, `not-yet`, or `unsure`: it lies between, or too little was played to tell",
            "there",
            enum=[band.value for band in Band],
        ),
    ]
    figures: Annotated[
        dict[str, float],
        about(
            "the raw figures by name: shares of 1, milliseconds, counts; `_low` and `_high` "
            "enclose 95 in 100",
            {"taps": 16, "spread": 0.071, "spread_low": 0.05, "spread_high": 0.12},
        ),
    ]

    remarks: ClassVar[str] = """\
Of a `pulse` the figures are those of going on after the last beat; `along` is how taps stray about
the beats while these sound, without their mean, which holds the loudspeaker's delay. Everything can
be worked out anew from the `key` and `tone` lines. None of it is an `answer`: it counts in no
statistics, and changes nothing until the teacher sets an answer by it.
"""
