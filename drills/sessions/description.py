"""The description of a session file for people, generated from the types of its records."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import msgspec

from drills.sessions.records import RECORDS, Header
from drills.sessions.schema import kind_name

_INTRODUCTION = """\
# Session file

Generated from `drills/sessions/records.py` by `python -m drills.sessions.generate`: change it
there.

A session is kept in one UTF-8 text file of JSON Lines, `STUDIO/NICKNAME/sessions/*.jsonl`, readable
by its owner only. Its name is the local time of the start and the first eight digits of the
session's id: `2026-03-02T16-30-05_6f9b1c52.jsonl`. Every line is written and flushed as it
happens, and brought to the disk after each answer, so a session that was cut short (the power
went, the window was killed) is a good file up to its last whole line.
`drills.storage.read_session(path)` reads it; `drills/sessions/session.schema.json` (JSON Schema,
draft 2020-12) describes one line and is part of the installed package; the tests hold every file
the program writes against it.

**Versions only add.** A later version may add fields to a line and kinds of events; it never drops
one, renames one or changes what one means. So a reader passes over fields and events that it does
not know, and treats a line it cannot read as if it were not there. `version` rises when something
is added.

Times: `t` is in milliseconds since the start (the header's `started` and `clock_ns` name the same
moment), with at most three decimals. Keys are timed by the clock that `clock` names: `driver` (the
MIDI driver's own time stamps), `milliseconds` (the same, in whole milliseconds; since version 4),
`arrival` (when the message reached the program), `window` (the on-screen keyboard) or `simulated`.
Lines stand in the order in which the session took them in; a key's `t`, which comes from the
driver, may therefore be a little earlier than that of the line before it. Key numbers are those of
MIDI 1.0: middle C is 60.
"""


def session_file_description() -> str:
    """Return the description as Markdown: what each kind of line holds, with examples of it."""
    parts = [_INTRODUCTION, *_section("Line 1: the header", Header, None)]
    for record in RECORDS:
        summary = (record.__doc__ or "").removesuffix(".")
        title = f"`{kind_name(record)}`: {summary[:1].lower()}{summary[1:]}"
        parts += _section(title, record, kind_name(record))
    return "\n".join(parts)


def _section(title: str, record: type[Any], event: str | None) -> Iterator[str]:
    fields = msgspec.inspect.type_info(record)
    assert isinstance(fields, msgspec.inspect.StructType)
    said = {field.encode_name: _said(field.type) for field in fields.fields}
    yield f"## {title}\n"
    yield "```json"
    yield from _examples(said, event, record)
    yield "```\n"
    yield "| field | meaning |"
    yield "|---|---|"
    yield from (f"| `{name}` | {each['description']} |" for name, each in said.items())
    yield ""
    if remarks := getattr(record, "remarks", ""):
        yield remarks


def _said(kind: msgspec.inspect.Type) -> dict[str, Any]:
    """Return what is said of a field: its description and its examples."""
    assert isinstance(kind, msgspec.inspect.Metadata)
    return kind.extra_json_schema or {}


def _examples(
    said: dict[str, dict[str, Any]], event: str | None, record: type[Any]
) -> Iterator[str]:
    """Yield lines of JSON made of the fields' examples: each one's next, or its last again."""
    examples = {name: each["examples"] for name, each in said.items()}
    beginning = {} if event is None else {"event": event}
    for number in range(max(map(len, examples.values()))):
        line = {name: each[min(number, len(each) - 1)] for name, each in examples.items()}
        decoded = msgspec.convert(beginning | line, record)
        yield json.dumps(_written(decoded, beginning | line), separators=(",", ":"))


def _written(record: Any, line: dict[str, Any]) -> dict[str, Any]:
    """Return an example as it is written, without the fields that are left out."""
    written = msgspec.to_builtins(record)
    return {name: value for name, value in line.items() if name in written}
