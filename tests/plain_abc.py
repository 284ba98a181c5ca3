"""An independent reader of ABC: the sounding keys of its notes, by a small tokenizer of its own.

After the ABC standard 2.1: sections 3 (fields), 4.2 and 11.3 (accidentals, which hold in every
octave until the bar ends, as abc2midi plays them, too), 4.3 (octaves), 4.11 (ties), 4.12 (grace
notes), 4.17 (chords), 4.18 (chord symbols), 4.19 (annotations). It knows nothing of music21 and
shares no code with the program.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

MIDDLE_C = 60  # MIDI 1.0
STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
SHARPS, FLATS = "FCGDAEB", "BEADGCF"
TONICS = {"C": 0, "G": 1, "D": 2, "A": 3, "E": 4, "B": 5, "F#": 6, "C#": 7, "F": -1, "Bb": -2,
          "Eb": -3, "Ab": -4, "Db": -5, "Gb": -6, "Cb": -7, "G#": 8, "D#": 9, "A#": 10}  # fmt: skip
"""Sharps (flats below 0) of the major keys."""
MODES = {"": 0, "maj": 0, "ion": 0, "mix": -1, "dor": -2, "m": -3, "min": -3, "aeo": -3,
         "phr": -4, "loc": -5, "lyd": 1}  # fmt: skip
"""By how many sharps a mode differs from major on the same note (section 3.1.14)."""
TOKEN = re.compile(
    r'(?P<quoted>"[^"]*")|(?P<field>\[[A-Za-z]:[^\]]*\])|(?P<decoration>![^!\s]+!|\+[^+\s]+\+)'
    r"|(?P<bar>\|[\]:|]?|:+\||::|\[\||\[(?=\d))|(?P<note>(?P<sign>\^\^?|__?|=)?"
    r"(?P<letter>[A-Ga-g])(?P<octave>[,']*)[\d/]*[<>]*\s*(?P<tie>-?))|(?P<rest>[zxZX][\d/]*)"
    r"|(?P<open>[\[{])|(?P<close>[\]}])"
)


def tunes(text: str) -> Iterator[list[str]]:
    """Give the lines of each tune that has music, without comments."""
    lines: list[str] = []
    for line in text.splitlines():
        if line.startswith("X:"):
            yield lines
            lines = []
        lines.append(re.sub(r"(?<!\\)%.*", "", line).rstrip())
    yield lines


def key_counts(text: str) -> Counter[int]:
    """Count the keys of all notes that begin a sound, over all tunes of a file."""
    counts: Counter[int] = Counter()
    for lines in tunes(text):
        if any(line.startswith("K:") for line in lines):
            counts += _of_tune(lines)
    return counts


def _of_tune(lines: list[str]) -> Counter[int]:
    counts: Counter[int] = Counter()
    voices: dict[str, _Voice] = {}
    start = next(n for n, line in enumerate(lines) if line.startswith("K:"))
    key, octaves = _signature(lines[start][2:]), _octaves(lines[start])
    for line in lines[:start]:
        if line.startswith("V:"):
            voices[line[2:].split()[0]] = _Voice(key, _octaves(line) or octaves)
    voice = voices.setdefault("", _Voice(key, octaves))
    for line in lines[start + 1 :]:
        if re.match(r"[A-Za-z+]:", line):
            if line[0] == "K":
                voice.key = _signature(line[2:])
            elif line[0] == "V":
                voice = voices.setdefault(line[2:].split()[0], _Voice(key, octaves))
                voice.octaves = _octaves(line) or voice.octaves
            continue
        for token in TOKEN.finditer(line):
            if token["field"]:
                kind, told = token["field"][1], token["field"][3:-1]
                if kind == "K":
                    voice.key = _signature(told)
                elif kind == "V":
                    voice = voices.setdefault(told.split()[0], _Voice(key, octaves))
                continue
            counts.update(voice.take(token))
    return counts


class _Voice:
    """Follows accidentals to the bar line, and ties to the next note or chord."""

    def __init__(self, key: dict[str, int], octaves: int) -> None:
        self.key, self.octaves = key, octaves
        self._signs: dict[str, int] = {}
        self._tied: set[int] = set()
        self._tied_signs: dict[tuple[str, int], int] = {}
        self._chord: list[tuple[int, bool]] | None = None
        self._grace = False

    def take(self, token: re.Match[str]) -> Iterator[int]:
        """Take in a token; give the keys that begin to sound."""
        if token["bar"]:
            self._signs = {}
        elif token["rest"]:
            self._tied = set()
        elif token["open"]:
            self._grace = token["open"] == "{"
            self._chord = None if self._grace else []
        elif token["close"]:
            if token["close"] == "]" and self._chord is not None:
                yield from self._sounded(self._chord)
                self._chord = None
            self._grace = False
        elif token["note"]:
            key = self._key(token)
            if self._chord is not None:
                self._chord.append((key, bool(token["tie"])))
            elif self._grace:
                yield key
            else:
                yield from self._sounded([(key, bool(token["tie"]))])

    def _sounded(self, together: list[tuple[int, bool]]) -> Iterator[int]:
        tied, self._tied = self._tied, {key for key, tie in together if tie}
        yield from (key for key, _ in together if key not in tied)

    def _key(self, token: re.Match[str]) -> int:
        letter = token["letter"].upper()
        octave = (token["letter"].islower()) + token["octave"].count("'")
        octave -= token["octave"].count(",")
        sign = token["sign"]
        if sign:
            alteration = sign.count("^") - sign.count("_")
            self._signs[letter] = alteration
        else:
            carried = self._signs.get(letter, self.key.get(letter, 0))
            alteration = self._tied_signs.get((letter, octave), carried)
        if self._chord is None:
            self._tied_signs = {}
        if token["tie"]:
            self._tied_signs[letter, octave] = alteration
        return MIDDLE_C + STEPS[letter] + 12 * (octave + self.octaves) + alteration


def _octaves(told: str) -> int:
    """Give how many octaves a clef is moved by: treble-8, or -8va, is -1 (section 4.6)."""
    match = re.search(r"(?:treble|bass|alto|tenor)\d?([-+])8|\s([-+])8va", told)
    return 0 if match is None else {"+": 1, "-": -1}[match[1] or match[2]]


def _signature(told: str) -> dict[str, int]:
    """Read a key field: a tonic, a mode, and accidentals of its own."""
    if told.strip().startswith("Hp"):  # The Highland bagpipe; HP has no key signature.
        return {"F": 1, "C": 1}
    match = re.match(r"\s*([A-G][#b]?)\s*([A-Za-z]*)", told)
    if match is None or told.strip().lower().startswith(("none", "clef")):
        return {}
    mode = match[2].lower()
    mode = "" if mode.startswith(("clef", "treble", "bass", "alto", "tenor", "exp")) else mode[:3]
    mode = "m" if mode == "m" or (mode.startswith("m") and mode not in MODES) else mode
    sharps = TONICS[match[1]] + MODES.get(mode, 0)
    letters = SHARPS[:sharps] if sharps > 0 else FLATS[:-sharps]
    signature = dict.fromkeys(letters, 1 if sharps > 0 else -1)
    for sign, letter in re.findall(r"(?<=\s)(\^\^?|__?|=)([A-Ga-g])", told):
        signature[letter.upper()] = sign.count("^") - sign.count("_")
    return signature
