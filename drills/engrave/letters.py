"""Letters that the words' font lacks: drawn by a font of the computer, or else as a dot.

A nickname may be written in any script. A letter that no font has would be drawn as a box, which
looks like a fault of the program and tells a child that her name is wrong.
"""

from __future__ import annotations

from functools import lru_cache
from html import escape

import resvg_py

from drills.engrave.words import TEXT_FONT, letter_widths

STAND_IN = "·"
_NO_LETTER = "\U0010fffd"
"""For private use only, so that no font has it: drawn as whatever stands for a missing letter."""


def rastered(svg: str) -> bytes:
    """Return a picture as PNG; fonts of the computer are asked only for letters that ours lacks."""
    return resvg_py.svg_to_bytes(
        svg_string=svg, skip_system_fonts=covered(svg), font_files=[str(TEXT_FONT)]
    )


def covered(text: str) -> bool:
    """Return whether the words' font has every letter of a text."""
    return text.isascii() or all(
        letter in letter_widths() or letter.isspace() for letter in set(text)
    )


def drawable(words: str) -> str:
    """Return words with a dot for each letter that no font of this computer draws."""
    if covered(words):
        return words
    return "".join(letter if covered(letter) or _is_drawn(letter) else STAND_IN for letter in words)


@lru_cache(1024)
def _is_drawn(letter: str) -> bool:
    return _drawn(letter) != _drawn(_NO_LETTER)


def _drawn(letter: str) -> bytes:
    return rastered(
        '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">'
        f'<text x="5" y="30" font-family="Andika" font-size="24">{escape(letter)}</text></svg>'
    )
