"""Humdrum files checked for being whole (Humdrum syntax, The Humdrum User Guide, chapter 5)."""

from __future__ import annotations

import re

from landmarks.score.notes import ScoreError
from landmarks.translation import _

_NOTE = re.compile(r"([A-Ga-g])\1*|r")


def note_count(text: str) -> int:
    """Count the notes and rests in all spines, those that continue a tie too."""
    data = (line for line in text.split("\n") if line and line[0] not in "*!=")
    return sum(len(_NOTE.findall(line)) for line in data)


def check_whole(text: str, where: str) -> None:
    """Refuse a file that holds no notes, or whose spines do not come to their end."""
    lines = [line for line in text.split("\n") if line.strip() and not line.startswith("!")]
    if not any("**kern" in line for line in lines if line.startswith("**")):
        raise ScoreError(
            _("{where}: this Humdrum file has no notes (**kern); choose one that has").format(
                where=where
            )
        )
    if set(lines[-1].split("\t")) != {"*-"}:
        raise ScoreError(
            _("{where}: this Humdrum file is cut short (no *- at its end); save it again").format(
                where=where
            )
        )
