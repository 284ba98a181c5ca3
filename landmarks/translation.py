"""Words in the reader's language: one gettext catalogue for the whole program.

A message is written in English where it is used, `_("who is playing?")`, with its variable parts
by name: `_("{name} warms up").format(name=...)`. What is a fact in a table is marked with `noted`
there and translated with `_` where it is shown. Session files are never translated.
"""

from __future__ import annotations

import gettext
from pathlib import Path

DOMAIN = "landmark-drills"
CATALOGUES = Path(__file__).parent / "languages"
"""Holds LANGUAGE/LC_MESSAGES/landmark-drills.po and, compiled from it, .mo (GNU gettext)."""

_spoken: list[gettext.NullTranslations] = [gettext.NullTranslations()]


def speak(*languages: str) -> None:
    """Use the first of these languages that has a catalogue ("de", "de_AT"), else English."""
    _spoken[0] = gettext.translation(DOMAIN, CATALOGUES, languages or ("en",), fallback=True)


def _(message: str) -> str:
    """Give a message in the reader's language."""
    return _spoken[0].gettext(message)


def counted(one: str, many: str, count: int) -> str:
    """Give the message for so many, its `{count}` filled in."""
    return _spoken[0].ngettext(one, many, count).format(count=count)


def noted(message: str) -> str:
    """Mark a message for translation where it stands as a fact; it is translated when shown."""
    return message


def language() -> str:
    """Give the code of the language in use ("de"), as its catalogue's header names it."""
    return _spoken[0].info().get("language", "en")
