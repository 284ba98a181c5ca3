"""Finds the messages that stand as facts in TOML files, for babel."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from typing import IO, Any

Message = tuple[int, str, str, Sequence[str]]
"""What babel asks of an extractor: the line, the function ("" for none), the message, comments."""


def extract_toml(
    file: IO[bytes], keywords: object, comment_tags: object, options: Mapping[str, str]
) -> Iterator[Message]:
    """Give the texts under those keys that the option `keys` names, in order, each once."""
    text = file.read().decode()
    lines = text.splitlines()
    for message in dict.fromkeys(_texts(tomllib.loads(text), options["keys"].split())):
        at = next((n for n, line in enumerate(lines, 1) if message in line), 1)
        yield at, "", message, []


def _texts(value: Any, keys: Sequence[str]) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inside in value.items():
            if isinstance(inside, str) and key in keys:
                yield inside
            else:
                yield from _texts(inside, keys)
    elif isinstance(value, list):
        for inside in value:
            yield from _texts(inside, keys)
