"""The JSON Schema of a session file, generated from the types of its records."""

from __future__ import annotations

from typing import Any

import msgspec

from drills.sessions.records import RECORDS, Header

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def session_schema() -> dict[str, Any]:
    """Return the schema (JSON Schema, draft 2020-12) of one line of a session file.

    `$defs` holds `header`, `event` and each kind of event by its name. Fields and kinds of
    events that it does not know pass: later versions may add them.
    """
    kinds = {kind_name(record): record_schema(record) for record in RECORDS}
    return {
        "$schema": DIALECT,
        "title": "A line of a landmark-drills session file",
        "description": (
            "Line 1 of a file is a header, every further line an event. Later versions may add "
            "fields and events; they never change or drop one."
        ),
        "oneOf": [{"$ref": "#/$defs/header"}, {"$ref": "#/$defs/event"}],
        "$defs": {"header": record_schema(Header), "event": _event_schema(kinds)} | kinds,
    }


def record_schema(record: type[Any]) -> dict[str, Any]:
    """Return the schema of one kind of line, with what holds between its fields."""
    generated: dict[str, Any] = msgspec.json.schema(record)["$defs"][record.__name__]
    del generated["title"]
    leaves_out = record.__struct_config__.omit_defaults
    for field in generated["properties"].values():
        _tidy(field, leaves_out)
    rules: dict[str, Any] = record.rules
    return generated | rules


def kind_name(record: type[Any]) -> str:
    """Return the name by which a file calls a kind of event: "card"."""
    return str(record.__struct_config__.tag)


def _event_schema(kinds: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """Return what holds for every event, and for each that is known."""
    return {
        "description": "What happened, and when.",
        "type": "object",
        "required": ["event", "t"],
        "properties": {
            "event": {"type": "string", "minLength": 1},
            "t": {"type": "number", "description": "At most 3 decimals."},
        },
        "allOf": [
            {
                "if": {"properties": {"event": {"const": name}}},
                "then": {"$ref": f"#/$defs/{name}"},
            }
            for name in kinds
        ],
    }


def _tidy(field: dict[str, Any], leaves_out: bool) -> None:
    """Take out of a field's schema the value that is never written but left out."""
    if "default" not in field:
        return
    default = field.pop("default")
    if not leaves_out:
        return
    field["examples"] = [example for example in field["examples"] if example != default]
    if not field["examples"]:
        del field["examples"]
    if default is None:
        written = [each for each in field.pop("anyOf") if each != {"type": "null"}]
        (only,) = written
        field.update(only)
