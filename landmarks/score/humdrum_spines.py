"""Humdrum files checked for being whole (Humdrum syntax, The Humdrum User Guide, chapter 5)."""

from __future__ import annotations

from landmarks.score.notes import ScoreError
from landmarks.translation import _


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
