"""Nicknames: what can name a pupil's folder on every system, and when two are the same."""

from __future__ import annotations

import unicodedata

from drills.text.errors import DrillsError
from landmarks.translation import _

LONGEST_NICKNAME = 24
_PUNCTUATION = " -_'"
_JOINERS = "\u200c\u200d"
"""Within words of Indic scripts and Persian these choose between two forms of a letter."""
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)}
)
"""File names that Windows keeps for devices, whatever the case; a superscript digit counts as
the digit (Microsoft, "Naming Files, Paths, and Namespaces")."""


class NicknameError(DrillsError, ValueError):
    """No nickname can be so; its one sentence says what to do."""


def checked_nickname(text: str) -> str:
    """Return a nickname as it is stored. Raises: NicknameError if it could not name a folder.

    >>> checked_nickname("  Zoe\\u0308 ") == "Zo\\u00eb"
    True
    """
    nickname = unicodedata.normalize("NFC", text).strip()
    fits = 0 < len(nickname) <= LONGEST_NICKNAME
    if not (fits and _is_plain(nickname)) or _is_reserved(nickname):
        raise NicknameError(
            _(
                "{text!r} cannot be a nickname: use 1 to {longest_nickname} letters, digits or "
                "spaces, and no real full name"
            ).format(text=text, longest_nickname=LONGEST_NICKNAME)
        )
    return nickname


def same_name_key(nickname: str) -> str:
    """Return what two spellings of one nickname share: case and ways of writing a letter do not
    count, so that a file system that does not tell them apart never mixes two pupils.

    >>> same_name_key("ROBIN") == same_name_key("robin")
    True
    >>> same_name_key("Groß") == same_name_key("Gross")
    False
    """
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", nickname).lower())


def is_drawable(name: str) -> bool:
    """Return whether a name can be written anywhere: no bytes that are no text, no controls."""
    return bool(name) and name.isprintable()


def _is_plain(nickname: str) -> bool:
    begins_well = nickname[0].isalnum() or nickname[0] in _PUNCTUATION
    return begins_well and all(
        letter.isalnum()
        or letter in _PUNCTUATION
        or (letter in _JOINERS and _is_within(nickname, place))
        or unicodedata.category(letter) in ("Mn", "Mc")
        for place, letter in enumerate(nickname)
    )


def _is_within(nickname: str, place: int) -> bool:
    """Return whether letters or marks of a script that uses joiners stand on both sides."""
    around = nickname[max(0, place - 1) : place] + nickname[place + 1 : place + 2]
    return len(around) == 2 and all(
        ord(letter) >= 0x0600 and unicodedata.category(letter)[0] in "LM" for letter in around
    )


def _is_reserved(nickname: str) -> bool:
    return unicodedata.normalize("NFKC", nickname).casefold() in _RESERVED
