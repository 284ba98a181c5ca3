"""The JSON Schema of a session file, as the tests hold lines against it."""

from __future__ import annotations

import json
from importlib import resources
from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator

SCHEMA: dict[str, Any] = json.loads(
    resources.files("drills.sessions").joinpath("session.schema.json").read_text("utf-8")
)


def part(name: str) -> Draft202012Validator:
    """A validator of one part of the schema: "header" or "event"."""
    return Draft202012Validator({"$defs": SCHEMA["$defs"], "$ref": f"#/$defs/{name}"})


def hold(path: Path) -> list[dict[str, Any]]:
    """Hold a session file against the schema, its first line and the others; give its lines."""
    header, *events = [
        json.loads(line) for line in path.read_bytes().removesuffix(b"\n").split(b"\n")
    ]
    line = Draft202012Validator(SCHEMA)
    part("header").validate(header)
    line.validate(header)
    for event in events:
        part("event").validate(event)
        line.validate(event)
        assert event["t"] == round(event["t"], 3)
    return [header, *events]
