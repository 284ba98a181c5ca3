"""The words' font inside a page: only the letters that the page shows, as one line of its style.

It is written as WOFF (W3C WOFF File Format 1.0), which every browser reads and Python's own zlib
packs. WOFF 2 would save a fifth of some 7 kB, and would need a compiled Brotli on every computer.
"""

from __future__ import annotations

import base64
import string
import unicodedata
from functools import lru_cache
from html.parser import HTMLParser
from io import BytesIO

from drills.engrave.words import TEXT_FONT

FAMILY = "Andika on this page"
"""A name of its own: a font of the reader's computer is never taken for it."""
_ALWAYS = string.ascii_letters + string.digits + string.punctuation + " "
"""What a page that is filled in may get from the keyboard."""
_HEIGHT = "ascent-override: 94%; descent-override: 25%; line-gap-override: 0%;"
"""What letters need, measured: Ä reaches 0.93 em up, p 0.24 em down. The font's own 1.61 em leave
room for signs that are stacked over each other.
"""
_GRAPHITE = ["Silf", "Silt", "Glat", "Gloc", "Feat", "Sill"]
"""Tables that browsers other than one do not read."""
_PLACING = ["GSUB", "GPOS", "GDEF"]
"""Rules of placing letters."""


def font_face(markup: str) -> str:
    """Return the CSS rule that gives a page, from its markup, the font for its letters.

    Letters that the font lacks are left to the fonts of the reader's computer.
    """
    data = base64.b64encode(_woff(frozenset(_letters(markup)))).decode("ascii")
    return (
        f'@font-face {{ font-family: "{FAMILY}"; '
        f'src: url("data:font/woff;base64,{data}") format("woff"); {_HEIGHT} }}'
    )


class _Shown(HTMLParser):
    """Collects what is shown of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.letters: set[str] = set()

    def handle_data(self, data: str) -> None:
        self.letters.update(data)


def _letters(markup: str) -> set[str]:
    shown = _Shown()
    shown.feed(markup)
    shown.close()
    return shown.letters - set("\n\t\r") | set(_ALWAYS)


@lru_cache(64)
def _woff(letters: frozenset[str]) -> bytes:
    from fontTools import subset
    from fontTools.ttLib import TTFont

    # Marks are placed by rules of the font; without a mark the rules are weight alone.
    marked = any(map(unicodedata.combining, letters))
    options = subset.Options(
        layout_features=["ccmp", "mark", "mkmk"] if marked else [],
        hinting=False, name_IDs=[], notdef_outline=True, glyph_names=False,
    )  # fmt: skip
    options.drop_tables += _GRAPHITE if marked else [*_GRAPHITE, *_PLACING]
    font = TTFont(TEXT_FONT, lazy=True, recalcTimestamp=False)
    subsetter = subset.Subsetter(options)
    subsetter.populate(text="".join(sorted(letters)))
    subsetter.subset(font)
    font.flavor = "woff"
    written = BytesIO()
    font.save(written)
    return written.getvalue()
