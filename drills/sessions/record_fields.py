"""What the fields of a session file may hold, and how they are told about.

What `extra_json_schema` says holds for what is written; reading takes more, for files of later
versions.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

import msgspec
from msgspec import Meta

from drills.cards.card import Kind
from landmarks.stave import CLEFS

_PITCH = "[A-G](bb|b|##|#)?(0|-?[1-9][0-9]*)"
_CLEF = "|".join(CLEFS)
_KIND = "|".join(kind.value for kind in Kind)
_NOT_EMPTY = {"minLength": 1}
_TEXT = Meta(extra_json_schema=_NOT_EMPTY)
_FROM_NOUGHT = Meta(extra_json_schema={"minimum": 0})
_FROM_ONE = Meta(extra_json_schema={"minimum": 1})

Text = Annotated[str, _TEXT]
KeyNumber = Annotated[int, Meta(ge=0, le=127)]
"""MIDI 1.0: middle C is 60."""
Milliseconds = Annotated[float, Meta(ge=-1e10, le=1e10)]
"""A time within some months, of which no sum leaves the calendar."""
Duration = Annotated[float, Meta(ge=0, le=1e10)]
CardId = Annotated[
    str,
    Meta(
        extra_json_schema={
            "pattern": f"^({_KIND})/({_CLEF})/{_PITCH}(/[a-z][A-Za-z0-9,/#-]*)?$",
        }
    ),
]
NoteValue = Annotated[str, Meta(extra_json_schema={"pattern": "^[a-z0-9]+\\.*$"})]
Spot = Annotated[str, Meta(extra_json_schema={"pattern": f"^[a-zA-Z0-9]+/{_PITCH}/[a-z0-9]+\\.*$"})]
Count = Annotated[int, _FROM_ONE]
Number = Annotated[int, _FROM_NOUGHT]


def about(description: str, *examples: object, **limits: Any) -> Meta:
    """Return what is said of a field; `limits` are JSON Schema's own words."""
    return Meta(description=description, examples=list(examples), extra_json_schema=limits or None)


class EventRecord(msgspec.Struct, frozen=True, tag_field="event", kw_only=True):
    """A record of a file after its header: an event, and when it was."""

    rules: ClassVar[dict[str, Any]] = {}
    """What JSON Schema is to hold between the fields."""
    remarks: ClassVar[str] = ""
    """What is to be known beside the fields."""
