"""The order in which names stand in a list."""

from __future__ import annotations

import re
import unicodedata

_DIGITS = re.compile(r"(\d+)")


def dictionary_key(name: str) -> tuple[tuple[int, int, str], ...]:
    """Return a key by which names sort as in a dictionary, numbers in them by their size.

    Accents and case do not count, ß sorts as ss (DIN 5007-1, words in dictionaries; from memory).
    Python knows no language's own order; for the Latin letters of English and German this is it.

    >>> sorted(["Zoë", "ärmel", "Robin 10", "Robin 9", "Arne"], key=dictionary_key)
    ['ärmel', 'Arne', 'Robin 9', 'Robin 10', 'Zoë']
    """
    plain = "".join(
        letter
        for letter in unicodedata.normalize("NFKD", name).casefold()
        if not unicodedata.combining(letter)
    )
    return tuple(
        (0, int(part), "") if part.isdecimal() else (1, 0, part)
        for part in _DIGITS.split(plain)
        if part
    )
