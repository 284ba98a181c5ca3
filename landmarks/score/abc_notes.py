"""The notes of ABC made plain: each with its own sign, without decorations, chord symbols, words.

By default a sharp, flat or natural holds for all notes of its letter, in every octave, until the
bar ends (ABC standard 2.1, section 11.3, `propagate-accidentals`; abc2midi plays it so), and a tie
carries it over the bar line. music21 10.5 carries signs only in files that name version 2 or
later, and never into chords. It loses notes, too: after a decoration that is a letter (section
4.16), before `::`, and where a hyphen joins two different notes, as older files write a slur.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

_TOKEN = re.compile(
    r'(?P<left_out>"[^"]*"|![^!\s]+!|[H-Wh-w~]|\.-?|(?<=\})-)|(?P<field>\[[A-Za-z]:[^\]]*\])'
    r"|(?P<double>::)|(?P<bar>\|)|(?P<chord>[\[\]])"
    r"|(?P<sign>\^\^?|__?|=)?(?P<letter>[A-Ga-g])(?P<octave>[,']*)(?P<length>[\d/]*[<>]*)(?P<tie>-?)"
)
_FIELDS = "KLM"
"""The fields that change what notes are; within a line music21 reads none."""
_NEXT = re.compile(
    r"(?:[\s|:()<>.~H-Wh-w]|\"[^\"]*\"|![^!\s]+!)*"
    r"(?P<sign>\^\^?|__?|=)?(?P<place>[A-Ga-g][,']*)?"
)


def plain_notes(lines: Iterable[str]) -> Iterator[str]:
    """Return the lines of one voice with nothing but its notes, rests, bar lines and fields."""
    carrier, every = _Carrier(), list(lines)
    for number, line in enumerate(every):
        carrier.following = next(filter(_is_music, every[number + 1 :]), "")
        yield _TOKEN.sub(carrier.written, line) if _is_music(line) else line


def _is_music(line: str) -> bool:
    return bool(line.strip()) and re.match(r"\s*[A-Za-z]:", line) is None


class _Carrier:
    """Knows the signs of the bar, and those that ties carry over its end."""

    def __init__(self) -> None:
        self._signs: dict[str, str] = {}
        self._tied: dict[str, str] = {}
        self._in_chord = False
        self.following = ""
        """The next line of music, in which a tie may end."""

    def written(self, token: re.Match[str]) -> str:
        """Return a token as it is to be written."""
        if token["left_out"]:
            return ""
        if token["bar"] or token["double"]:
            self._signs = {}
        if token["double"]:
            return ":|"
        if token["field"]:
            field = token["field"][1:-1]
            return f"\n{field}\n" if field[0] in _FIELDS else ""
        if token["chord"]:
            self._in_chord = token[0] == "["
        return self._note(token) if token["letter"] else token[0]

    def _note(self, token: re.Match[str]) -> str:
        letter, place = token["letter"].upper(), token["letter"] + token["octave"]
        sign = token["sign"] or self._tied.pop(place, "") or self._signs.get(letter, "")
        if token["sign"]:
            self._signs[letter] = sign
        tie = token["tie"] if self._in_chord or self._goes_on(token, place, sign) else ""
        if tie and sign:
            self._tied[place] = sign
        else:
            self._tied.pop(place, None)
        return f"{sign}{place}{token['length']}{tie}"

    def _goes_on(self, token: re.Match[str], place: str, sign: str) -> bool:
        """Return whether the note after this one, if it is no chord, can be the same."""
        after = _NEXT.match(f"{token.string[token.end() :]}|{self.following}")
        if after is None or not after["place"]:
            return True
        return after["place"] == place and after["sign"] in (None, sign)
