"""Words in the reader's language: one gettext catalogue for the whole program.

A message is written in English where it is used, `_("who is playing?")`, with its variable parts
by name: `_("{name} warms up").format(name=...)`. What is a fact in a table is marked with
`gettext_noop` there and translated with `_` where it is shown. Session files are never translated:
a sentence that is recorded as well as shown is a `LazyMessage`, which has both.
"""

from __future__ import annotations

import gettext
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol, runtime_checkable

DOMAIN = "landmark-drills"
CATALOGUES = Path(__file__).parent / "languages"
"""Holds LANGUAGE/LC_MESSAGES/landmark-drills.po and, compiled from it, .mo (GNU gettext)."""

Saying = Callable[[str], str]
"""How messages are given: `_` in the reader's language, `gettext_noop` as they are written."""

_spoken: list[gettext.NullTranslations] = [gettext.NullTranslations()]
_asked: list[tuple[str, ...]] = [()]


def activate(*languages: str) -> None:
    """Use the first of these languages that has a catalogue ("de", "de_AT"), else English.

    What comes after English is not looked at.
    """
    before = []
    for language in languages:
        if language.split("_")[0] in ("en", "C", "POSIX"):
            break
        before.append(language)
    _spoken[0] = gettext.translation(DOMAIN, CATALOGUES, before or ("en",), fallback=True)
    _asked[0] = languages


def active_languages() -> tuple[str, ...]:
    """Return the languages that were asked for, for another process to speak."""
    return _asked[0]


def language() -> str:
    """Return the language that is spoken, as its tag (BCP 47): "en", "de"."""
    return _spoken[0].info().get("language", "en").replace("_", "-")


def languages() -> tuple[str, ...]:
    """Return the languages that can be spoken, English first."""
    found = (catalogue.parts[-3] for catalogue in CATALOGUES.glob(f"*/LC_MESSAGES/{DOMAIN}.mo"))
    return ("en", *sorted(found))


def _(message: str) -> str:
    """Return a message in the reader's language."""
    return _spoken[0].gettext(message)


def pgettext(context: str, message: str) -> str:
    """Return a message whose words alone do not tell what is meant; `context` says it."""
    return _spoken[0].pgettext(context, message)


def ngettext(one: str, many: str, count: int, **values: object) -> str:
    """Return the message for so many, its `{count}` and the other `values` filled in."""
    return _spoken[0].ngettext(one, many, count).format(count=count, **values)


def gettext_noop(message: str) -> str:
    """Mark a message for translation where it stands as a fact; it is translated when shown."""
    return message


@runtime_checkable
class Recorded(Protocol):
    """What `str` gives in the reader's language, and `english` as session files have it."""

    @property
    def english(self) -> str:
        """The words of session files."""


@dataclass(frozen=True)
class LazyMessage:
    """A message with its values: `str` gives it in the reader's language, `english` for records.

    A value that is `Recorded` itself is given likewise. `capital` begins a sentence with it.
    """

    message: str
    values: tuple[tuple[str, object], ...]
    capital: bool = False

    def __str__(self) -> str:
        """Return it in the reader's language."""
        return self._filled(_(self.message), dict(self.values))

    @property
    def english(self) -> str:
        """The sentence as session files have it."""
        recorded = {
            name: value.english if isinstance(value, Recorded) else value
            for name, value in self.values
        }
        return self._filled(self.message, recorded)

    def _filled(self, message: str, values: dict[str, object]) -> str:
        words = message.format(**values)
        return words[:1].upper() + words[1:] if self.capital else words


def lazy(message: str, capital: bool = False, **values: object) -> LazyMessage:
    """Return a message to be shown and recorded, its parts by name."""
    return LazyMessage(message, tuple(values.items()), capital)
