"""How much room words need in the font of the pages, and how they are made to fit."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

TEXT_FONT = Path(__file__).parent.parent / "engrave" / "fonts" / "Andika-Regular.ttf"
"""Andika (SIL Open Font License), made for readers who are still learning their letters."""

WIDEST_LETTER = 1.04
"""In ems, a little more than the W of the font: measured."""
SMALLEST = 0.45
"""Of the size asked for: words are made no smaller to fit."""
_CUT = "…"


def words_width(words: str) -> float:
    """Return the width of a line of words in ems (advance widths, kerning left out)."""
    widths = letter_widths()
    return sum(widths.get(letter, WIDEST_LETTER) for letter in words)


def fit_words(words: str, size: float, width: float) -> tuple[str, float]:
    """Return words and font size that fit a width in pixels: smaller ones, cut at the last."""
    if WIDEST_LETTER * len(words) * size <= width or not words:
        return words, size
    size = max(SMALLEST * size, min(size, width / words_width(words)))
    if words_width(words) * size <= width * 1.001:
        return words, size
    while words and words_width(words + _CUT) * size > width:
        words = words[:-1]
    return words.rstrip() + _CUT, size


def broken(phrases: Sequence[str], between: str, size: float, width: float) -> list[str]:
    """Set phrases one after another, `between` them, in as many lines as the width asks for."""
    lines: list[str] = []
    for phrase in phrases:
        longer = f"{lines[-1]}{between}{phrase}" if lines else phrase
        if lines and words_width(longer) * size <= width:
            lines[-1] = longer
        else:
            lines.append(phrase)
    return lines


@cache
def letter_widths() -> dict[str, float]:
    """Return the advance width in ems of every letter that the font has."""
    from fontTools.ttLib import TTFont

    font = TTFont(TEXT_FONT, lazy=True)
    em, metrics = font["head"].unitsPerEm, font["hmtx"]
    return {chr(code): metrics[name][0] / em for code, name in font.getBestCmap().items()}
