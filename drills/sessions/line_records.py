"""The records of a session file that tell of a line of music and what is found in it."""

from __future__ import annotations

from typing import Annotated, ClassVar

from drills.sessions.record_fields import (
    Count,
    EventRecord,
    NoteValue,
    Number,
    Spot,
    Text,
    about,
)


class LineShownRecord(EventRecord, frozen=True, tag="line", kw_only=True):
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
