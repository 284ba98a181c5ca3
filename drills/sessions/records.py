"""The records of a session file: its header, and one type for each kind of event.

Here an event kind is defined: what is said of its fields, what they may hold and an example of each
go into the JSON Schema and the description of the file (`python -m drills.sessions.generate`).
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, ClassVar, Literal, get_args

import msgspec

from drills.cards.card import Kind
from drills.learning.scheduler import Cause
from drills.sessions.device_records import (
    KeyMovedRecord,
    MachineNoticedRecord,
    PianoChangedRecord,
)
from drills.sessions.events import Clock
from drills.sessions.line_records import (
    LineAnsweredRecord,
    LineFinishedRecord,
    LineShownRecord,
    NoteReadRecord,
    ValueAnsweredRecord,
    ValueAskedRecord,
    WrongKeyInLineRecord,
)
from drills.sessions.listening_records import (
    ItemBegunRecord,
    ItemHeardRecord,
    ToneSoundedRecord,
)
from drills.sessions.record_fields import (
    CardId,
    Count,
    Duration,
    EventRecord,
    KeyNumber,
    Milliseconds,
    Number,
    Text,
    about,
)
from landmarks.answer import Verdict
from landmarks.stave import CLEFS

FORMAT = "landmark-drills session"
VERSION = 5

Use = Literal["practice", "warm-up", "spotting", "reading", "listening"]
"""What a session is for: practice at home, a warm-up in the lesson, notes found in a line, lines
read, or a pupil listened to."""


class Header(msgspec.Struct, frozen=True, kw_only=True):
    """The first line: whose session it is and when it began."""

    rules: ClassVar[dict[str, Any]] = {
        "allOf": [{"required": ["format", "version"]}],
        "not": {"required": ["event"]},
    }

    format: Annotated[str, about("always `landmark-drills session`", FORMAT, const=FORMAT)] = FORMAT
    version: Annotated[Count, about("of this format, from 1", VERSION)] = VERSION
    session: Annotated[
        str,
        about(
            "UUID of the session (RFC 9562)",
            "6f9b1c52-8a0e-4c11-9d83-5b3a3f0e2a10",
            pattern="^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$",
        ),
    ]
    pupil: Annotated[
        str, about("nickname, never a real full name", "Robin", minLength=1, maxLength=24)
    ]
    started: Annotated[
        datetime,
        about(
            "local date and time of the start, ISO 8601 (RFC 3339) with its offset in hours and "
            "minutes (`+00:00` for UTC)",
            "2026-03-02T16:30:05.250000+01:00",
            pattern="^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,6})?[+-]\\d{2}:\\d{2}$",
        ),
    ]
    clock_ns: Annotated[
        Number,
        about(
            "the monotonic clock of the machine at that moment, nanoseconds; comparable within "
            "one run of the machine only",
            7810000000000,
        ),
    ]
    program: Annotated[Text, about("version of the program", "0.1.0")]
    port: Annotated[
        str | None,
        about(
            "name of the piano's input port, without the numbers that change when it is plugged "
            "in again; `null` if there was no piano at the start",
            "Stage piano MIDI 1",
        ),
    ]
    clock: Annotated[Clock, about("clock of the keys until a `piano` line names another", "driver")]
    set: Annotated[
        Text,
        about(
            "name of the landmark set: a built-in one, or the teacher's file without its ending",
            "five",
        ),
    ]
    seed: Annotated[int, about("seed of the planner", 7)]
    use: Annotated[
        Text,
        about(
            "`practice` at home, a `warm-up` in the lesson, `spotting` notes in a line of music, "
            "`reading` lines (since version 4), or `listening` to what a pupil brings (since "
            "version 5); `practice` if left out (since version 2)",
            "practice",
        ),
    ] = "practice"
    parameters: Annotated[
        Text | None,
        about(
            "version of the learning model's numbers that the cards were chosen by (since version "
            "4); left out or `null` if it is not known",
            "0c9f51c2ab34",
        ),
    ] = None


class CardAskedRecord(EventRecord, frozen=True, tag="card", kw_only=True, omit_defaults=True):
    """A card is on the screen."""

    t: Annotated[
        Milliseconds,
        about("when it was on the screen; response times count from here", 116.7, 4116.7),
    ]
    id: Annotated[
        CardId,
        about(
            "the card's lasting name: kind, clef, note in scientific pitch notation, and its form "
            "if it is not the usual one",
            "step/treble/A4",
            "contour/treble/G4/one-line/up,stay,down",
        ),
    ]
    kind: Annotated[
        str,
        about(
            "`key` (a key to find, lit on the strip), `landmark`, `step`, `contour` or `piece`",
            "step",
            "contour",
            enum=[kind.value for kind in Kind],
        ),
    ]
    clef: Annotated[str, about("`treble` or `bass`", "treble", enum=list(CLEFS))]
    target: Annotated[
        KeyNumber,
        about(
            "the key number that answers it (of a contour: of the place of its first shape; any "
            "key may begin it)",
            69,
            67,
        ),
    ]
    name: Annotated[
        Text,
        about(
            "what a teacher calls the note, in English and by letters, whatever was shown",
            "treble A",
            "a line of shapes",
        ),
    ]
    move: Annotated[
        Number | None,
        about(
            "of a contour: 0 while its first shape waits for any key, then which move is asked; "
            "left out otherwise (since version 2)",
            None,
            0,
        ),
    ] = None

    remarks: ClassVar[str] = """\
Forms (since version 2): `key/treble/D4/name` asks for a key by its written name and
`key/treble/D4/place` by its place beside the black keys, in any octave; `step/treble/A4/beside-G4`
shows the landmark beside the note; `contour/treble/G4/one-line/up,stay,skip-down` is a line of
shapes on as many stave lines as it says (`no-stave`, `one-line`, `two-lines`, `five-lines`), whose
moves are `up`, `down`, `stay`, `skip-up` and `skip-down`. Each move of a contour has a `card` line
of its own, whose `t` is when the shape before was played (the whole line is there to be seen all
the while), and an `answer`, which is `exact` or `direction`; the key that begins it answers
nothing.
"""


class AnsweredRecord(EventRecord, frozen=True, tag="answer", kw_only=True, omit_defaults=True):
    """A pressed key is judged."""

    t: Annotated[
        Milliseconds,
        about(
            "when the key was pressed (the line is written when the keys that went down with it "
            "have settled, 50 ms after the first of them)",
            1536.912,
            3010.4,
        ),
    ]
    id: Annotated[CardId, about("the card it answers", "step/treble/A4")]
    verdict: Annotated[
        str,
        about(
            "`exact`; `direction` (the step taken the other way), `clef` (this place in the other "
            "clef), `octave`, `half-step`, `step`, `skip`, `leap`; `brushed` (a neighbour caught "
            "with the right key), `cluster` (several keys at once)",
            "step",
            "exact",
            enum=[verdict.value for verdict in Verdict],
        ),
    ]
    played: Annotated[
        KeyNumber,
        about(
            "key number **after** the piano's shift was put right; of a cluster, its first key",
            67,
            69,
        ),
    ]
    ms: Annotated[Duration, about("milliseconds from the card's `t` to the key", 1420.212, 2893.7)]
    attempt: Annotated[
        Count,
        about(
            "1 for the first answer to this showing of the card; a brushed neighbour and a wrong "
            "key that came too soon do not use one up",
            1,
            2,
        ),
    ]
    hints: Annotated[
        int,
        about(
            "help on the card when the key was pressed: 0 none, 1 a landmark beside the note, 2 "
            "its key as well, 3 its name as well (since version 2); 0 where the help belongs to "
            "the card (a lit key, a landmark beside a step); on a contour 1 means that the way "
            "was shown",
            0,
            minimum=0,
            maximum=3,
        ),
    ]
    counted: Annotated[
        bool,
        about(
            "`true` if the answer goes into the statistics; left out otherwise",
            True,
            False,
            const=True,
        ),
    ] = False
    why_not: Annotated[
        Text | None,
        about(
            "why it does not: `too soon` (under 150 ms), `later attempt`, `pause` (over 30 s), "
            "`helped` (the teacher had given a hint or the answer; since version 2), `piano lost` "
            "or `piano found` (while the card was asked), `stood still` (the computer slept, or "
            "the program was stopped; since version 3), `brushed`, `cluster`, `tuning` (an answer "
            "to the question for middle C); in a line of music (since version 2) `touched`, "
            "`named`, `pointed at`; left out if it counts",
            None,
            "later attempt",
        ),
    ] = None
    move: Annotated[
        Number | None,
        about("of a contour: the move that was asked (since version 2)", None),
    ] = None
    note: Annotated[
        Number | None,
        about(
            "of a note that is looked for in a line: which note was touched, or marked by the key, "
            "counted from 0 in the latest `line`; left out for a key that marks none (since "
            "version 2)",
            None,
        ),
    ] = None

    rules: ClassVar[dict[str, Any]] = {
        "oneOf": [{"required": ["counted"]}, {"required": ["why_not"]}]
    }
    remarks: ClassVar[str] = "Just one of `counted` and `why_not` is there.\n"


class RungReachedRecord(EventRecord, frozen=True, tag="rung", kw_only=True):
    """The pupil stands on a rung of the ladder (since version 2)."""

    t: Annotated[float, about("from when on", 0.0)]
    rung: Annotated[
        Text, about("the rung's name in `drills/learning/ladder/ladder.toml`", "one-line")
    ]
    before: Annotated[
        str | None,
        about(
            "the rung she came from; `null` for the first line of a session, which says where she "
            "stands",
            None,
        ),
    ]
    by: Annotated[
        Cause, about("`beginnings` (what she brought), `answers`, or `teacher`", "beginnings")
    ]
    why: Annotated[
        Text,
        about(
            "one sentence for the teacher, in English",
            "Moves up and down with what she hears: begin with shapes on one line.",
        ),
    ]


class EndedRecord(EventRecord, frozen=True, tag="end", kw_only=True):
    """The session is over."""

    t: Annotated[Milliseconds, about("when", 301250.0)]
    why: Annotated[
        Text,
        about(
            "`done` (nothing more to ask), `stopped` (by the pupil or the teacher), `closed` (the "
            "window was closed) or `stood still` (the computer slept for over half an hour: a new "
            "session has the right date again)",
            "done",
        ),
    ]

    remarks: ClassVar[str] = "A file without this line was cut short.\n"


Record = (
    CardAskedRecord | KeyMovedRecord | AnsweredRecord | RungReachedRecord | LineShownRecord
    | ValueAskedRecord | ValueAnsweredRecord | NoteReadRecord | WrongKeyInLineRecord
    | LineAnsweredRecord | LineFinishedRecord | ItemBegunRecord | ToneSoundedRecord
    | ItemHeardRecord | PianoChangedRecord | MachineNoticedRecord
    | EndedRecord
)  # fmt: skip
RECORDS: tuple[type[EventRecord], ...] = get_args(Record)
"""All kinds of lines after the first, in the order of their description."""
