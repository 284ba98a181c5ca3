"""Every score of music21's corpus, read here and by an independent count of the same file.

    python -m tests.bench.corpus [FORM ...]

MusicXML is compared head by head (stave, bar, place in it, clef, pitch, tie, grace note), with
ranges, steps and nearest landmarks, against `tests.plain_musicxml`; Humdrum key by key against a
count of the tokens in its **kern spines, and ABC key by key against `tests.plain_abc`. FORM is
MusicXML, Humdrum or ABC (all three).
"""

from __future__ import annotations

import re
import sys
import time
from collections import Counter, defaultdict
from pathlib import Path

from landmarks.pitch import LETTERS, Pitch
from landmarks.score import ScoreError, read_scores
from landmarks.sets import built_in_sets
from tests import plain_abc, plain_musicxml
from tests.score_agreement import CORPUS, MUSICXML, differences

FORMS = dict.fromkeys(MUSICXML, "MusicXML") | {".krn": "Humdrum", ".abc": "ABC"}

_TOKEN = re.compile(r"([A-Ga-g])\1*")
_SIGNS = {"#": 1, "-": -1}


def kern_keys(text: str) -> Counter[int]:
    """Count the keys of the notes in **kern spines that continue no tie (Humdrum syntax)."""
    keys: Counter[int] = Counter()
    spines: list[bool] = []
    for line in text.splitlines():
        tokens = line.split("\t")
        if not line.strip() or line.startswith("!"):
            continue
        if line.startswith("**"):
            spines = [token == "**kern" for token in tokens]
        elif line.startswith("*"):
            spines = _after(spines, tokens)
        elif not line.startswith("="):
            for is_kern, token in zip(spines, tokens, strict=False):
                if is_kern:
                    keys.update(_keys_of(token))
    return keys


def _after(spines: list[bool], tokens: list[str]) -> list[bool]:
    """Follow the spine paths of one line: split, join, end."""
    after: list[bool] = []
    joining = False
    for is_kern, token in zip(spines, tokens, strict=False):
        if token == "*^":
            after += [is_kern, is_kern]
        elif token == "*v" and joining:
            continue
        elif token != "*-":
            after.append(is_kern)
        joining = token == "*v"
    return after


def _keys_of(token: str) -> list[int]:
    keys = []
    for note in token.split(" "):
        match = _TOKEN.search(note)
        if match is None or "r" in note or "]" in note or "_" in note:
            continue
        name = match[0]
        octave = 3 + len(name) if name[0].islower() else 4 - len(name)
        sign = sum(_SIGNS.get(letter, 0) for letter in note)
        keys.append(Pitch(7 * octave + LETTERS.index(name[0].upper()), sign).midi)
    return keys


def main() -> None:
    """Read, compare, and print what differs and a table."""
    wanted = sys.argv[1:] or ["MusicXML", "Humdrum", "ABC"]
    table: dict[str, Counter[str]] = defaultdict(Counter)
    for path in sorted(CORPUS.rglob("*")):
        form = FORMS.get(path.suffix)
        if form in wanted:
            _compare(path, form, table[form])
    for form, counts in table.items():
        print(form, ", ".join(f"{name} {count:.0f}" for name, count in counts.items()))


def _compare(path: Path, form: str, counts: Counter[str]) -> None:
    counts["files"] += 1
    begun = time.perf_counter()
    try:
        scores = read_scores(path)
    except ScoreError as error:
        counts["refused"] += 1
        print(f"refused: {error}")
        return
    finally:
        counts["seconds"] += time.perf_counter() - begun  # type: ignore[assignment]
    counts["notes"] += sum(len(score.notes) for score in scores)
    match form:
        case "MusicXML":
            reading = plain_musicxml.read(path)
            found = list(differences(scores[0], reading, built_in_sets()["five"]))
        case "Humdrum":
            ours = Counter(note.key for score in scores for note in score.notes)
            theirs = kern_keys(path.read_text(encoding="utf-8", errors="replace"))
            found = [] if ours == theirs else [f"ours {ours - theirs}, plain {theirs - ours}"]
        case _:
            ours = Counter(note.key for score in scores for note in score.notes)
            theirs = plain_abc.key_counts(path.read_text(encoding="utf-8", errors="replace"))
            found = [] if ours == theirs else [f"ours {ours - theirs}, plain {theirs - ours}"]
    counts["differ" if found else "agree"] += 1
    for difference in found:
        print(f"differs: {path.name}: {difference[:300]}")


if __name__ == "__main__":
    main()
