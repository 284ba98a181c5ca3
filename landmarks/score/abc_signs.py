"""Sharps, flats and naturals of ABC carried to the bar line, so that every note shows its own.

By default a sign holds for all notes of its letter, in every octave, until the bar ends (ABC
standard 2.1, section 11.3, `propagate-accidentals`), and a tie carries it over the bar line.
music21 10.5 carries signs only in files that name version 2 or later, and never into chords.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

_TOKEN = re.compile(
    r'"[^"]*"|\[[A-Za-z]:[^\]]*\]|![^!\s]+!|(?P<bar>\||::)'
    r"|(?P<sign>\^\^?|__?|=)?(?P<letter>[A-Ga-g])(?P<octave>[,']*)(?P<length>[\d/]*)(?P<tie>-?)"
)


def with_carried_signs(lines: Iterable[str]) -> Iterator[str]:
    """Give the lines of one voice with the sign of every note written beside it."""
    carrier = _Carrier()
    for line in lines:
        is_field = re.match(r"\s*[A-Za-z]:", line) is not None
        yield line if is_field else _TOKEN.sub(carrier.written, line)


class _Carrier:
    """Knows the signs of the bar, and those that ties carry over its end."""

    def __init__(self) -> None:
        self._signs: dict[str, str] = {}
        self._tied: dict[str, str] = {}

    def written(self, token: re.Match[str]) -> str:
        """Give a token as it is to be written."""
        if token["bar"]:
            self._signs = {}
        if not token["letter"]:
            return token[0]
        letter, place = token["letter"].upper(), token["letter"] + token["octave"]
        sign = token["sign"] or self._tied.pop(place, "") or self._signs.get(letter, "")
        if token["sign"]:
            self._signs[letter] = sign
        if token["tie"] and sign:
            self._tied[place] = sign
        else:
            self._tied.pop(place, None)
        return f"{sign}{place}{token['length']}{token['tie']}"
