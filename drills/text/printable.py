"""Words from names, titles and files, made safe to print in a terminal."""

from __future__ import annotations

import unicodedata

_BIDIRECTIONAL = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")
"""They turn the order of what follows around (Unicode Standard Annex 9)."""
_REPLACEMENT = "\ufffd"


def printable(words: str) -> str:
    """Return a line of words with a replacement character for whatever is no letter or sign.

    Control characters (ECMA-48: cursor, colours, title of the window) and those that turn the
    order of the words around are never passed on; a tab or a line's end becomes a space.

    >>> printable("Robin\\x1b[2J, 3 March")
    'Robin\ufffd[2J, 3 March'
    """
    if words.isprintable() and not _BIDIRECTIONAL.intersection(words):
        return words
    return "".join(map(_shown, words))


def _shown(letter: str) -> str:
    if letter in "\t\n\r\u2028\u2029":
        return " "
    hidden = unicodedata.category(letter) in ("Cc", "Cs") or letter in _BIDIRECTIONAL
    return _REPLACEMENT if hidden else letter
