"""The records of a session file that tell of a line of music: what is found in it, what is read."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from drills.sessions.effects import Hands
from drills.sessions.record_fields import (
    CardId,
    Count,
    EventRecord,
    KeyNumber,
    Milliseconds,
    NoteValue,
    Number,
    Spot,
    Text,
    about,
)
from landmarks.answer import Verdict


class LineShownRecord(EventRecord, frozen=True, tag="line", kw_only=True, omit_defaults=True):
    """A line of music is on the screen (since version 2)."""

    t: Annotated[float, about("when it was on the screen", 10.0)]
    source: Annotated[
        Text,
        about(
            "where the line comes from: a file's name and bars, or `invented`",
            "invented",
        ),
    ]
    notes: Annotated[
        tuple[Spot, ...],
        about(
            "every note in reading order: clef, pitch and value; `other` is a value without a name",
            ["treble/G4/quarter", "treble/A4/half", "treble/G4/quarter"],
        ),
    ]

    hands: Annotated[
        Hands | None,
        about(
            "of a line that is to be read: which hands play it, `both`, the `right` one (the upper "
            "stave) or the `left` one (the lower); left out of a line in which notes are looked "
            "for (since version 4)",
            None,
        ),
    ] = None

    remarks: ClassVar[str] = """\
A note that is looked for in the line is a `card` of the kind `piece`, written anew after each find
that leaves another to be found, so that `ms` and `attempt` count from there; a note value has no
key and so no card, its `value` line is written anew in the same way. **No answer about a line
counts**: the note's name was given, so a finger on the screen shows that a name was found on the
stave (`touched`) and a key that a name was found on the piano (`named`), neither that a note alone
was read. `pointed at` means that the next note had been pointed out.
"""


class ValueAskedRecord(EventRecord, frozen=True, tag="value", kw_only=True):
    """A note value is asked for, to be touched in the line (since version 2)."""

    t: Annotated[float, about("when it was on the screen", 4010.0)]
    value: Annotated[
        NoteValue,
        about(
            "the note value asked for: the note type of MusicXML 4.0, and a dot for each of its "
            "dots",
            "half",
        ),
    ]
    name: Annotated[Text, about("what the teacher calls it", "minim")]


class ValueAnsweredRecord(EventRecord, frozen=True, tag="value-answer", kw_only=True):
    """A note is touched in answer to a note value (since version 2)."""

    t: Annotated[float, about("when it was touched", 5110.0)]
    value: Annotated[NoteValue, about("the note value asked for", "half")]
    note: Annotated[Number, about("which note of the line was touched, counted from 0", 1)]
    touched: Annotated[
        NoteValue, about("the value of the note touched; `other` if it has no name", "half")
    ]
    right: Annotated[bool, about("whether it was the one asked for", True)]
    ms: Annotated[
        float, about("milliseconds from the latest `value` line to the touch", 1100.0, minimum=0)
    ]
    attempt: Annotated[Count, about("1 for the first touch since that line", 1)]


class NoteReadRecord(EventRecord, frozen=True, tag="note", kw_only=True):
    """A note of a line that is read is played (since version 4)."""

    t: Annotated[Milliseconds, about("when its key went down", 2410.0)]
    note: Annotated[Number, about("which note of the latest `line`, counted from 0", 0)]
    played: Annotated[KeyNumber, about("key number **after** the piano's shift was put right", 67)]
    way: Annotated[
        Literal["on", "back", "over"],
        about(
            "`on` from the moment before it (also the further notes of one moment), `back` to it, "
            "or `over` notes that were left out",
            "on",
        ),
    ]

    remarks: ClassVar[str] = """\
Which note a key plays is told as it goes down, from what was played before it; what comes after it
changes nothing in the file.
"""


class WrongKeyInLineRecord(EventRecord, frozen=True, tag="wrong-key", kw_only=True):
    """A key plays no note of the line where the player stands (since version 4)."""

    t: Annotated[Milliseconds, about("when it went down", 3050.5)]
    note: Annotated[
        Number, about("the note that was expected: of those that could come, the nearest", 1)
    ]
    verdict: Annotated[
        str, about("as in `answer`", "step", enum=[verdict.value for verdict in Verdict])
    ]
    played: Annotated[KeyNumber, about("key number **after** the piano's shift was put right", 71)]
    steps: Annotated[
        int, about("lines and spaces from that note to the key: positive is above it", 1)
    ]


class LineAnsweredRecord(
    EventRecord, frozen=True, tag="line-answer", kw_only=True, omit_defaults=True
):
    """A note of a line was read: how, when it was first come to (since version 4)."""

    t: Annotated[Milliseconds, about("when the line was over", 9800.0)]
    note: Annotated[Number, about("which note of the latest `line`, counted from 0", 2, 1)]
    id: Annotated[
        CardId,
        about("its place: the card of the kind `piece`", "piece/treble/G4", "piece/treble/A4"),
    ]
    verdict: Annotated[
        str,
        about(
            "`exact`, or what the first key that was not brushed was where this note was expected",
            "exact",
            "step",
            enum=[verdict.value for verdict in Verdict],
        ),
    ]
    played: Annotated[
        KeyNumber, about("key number **after** the piano's shift was put right", 67, 71)
    ]
    ms: Annotated[
        Milliseconds | None,
        about(
            "hesitation: milliseconds beyond what the note's written length takes at her own "
            "tempo around it; negative is early; left out where none can be told (the first note, "
            "after a wrong key, a return or a leap, in a line of few notes)",
            310.5,
            None,
        ),
    ] = None
    low: Annotated[
        Milliseconds | None,
        about("the lower end of its interval, over 0 where she certainly hesitated", 42.1, None),
    ] = None
    high: Annotated[Milliseconds | None, about("the upper end of its interval", 480.25, None)] = (
        None
    )

    rules: ClassVar[dict[str, Any]] = {
        "dependentRequired": {"ms": ["low", "high"], "low": ["ms"], "high": ["ms"]},
    }
    remarks: ClassVar[str] = """\
`ms`, `low` and `high` are there together; the intervals of one line hold together in 95 of 100
lines (`landmarks/hesitation.py`). These lines stand where the line is over; a file that was cut
short in mid-line has none for it.
"""


class LineFinishedRecord(EventRecord, frozen=True, tag="line-end", kw_only=True):
    """A line that is read is over (since version 4)."""

    t: Annotated[Milliseconds, about("when", 9800.0)]
    why: Annotated[
        Literal["played", "left"], about("`played` to its end, or `left` before it", "played")
    ]
