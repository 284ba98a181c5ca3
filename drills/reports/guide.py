"""The guide: how to use the program, as one page in the reader's language.

It is continuous text, so each language has a template of its own. English stands in for a
language whose guide has not been written.
"""

from __future__ import annotations

from collections.abc import Iterable
from importlib import resources
from pathlib import Path
from typing import TypedDict

from markupsafe import Markup

from drills.engrave.layer import Layer
from drills.reports.frame import page_of
from drills.reports.page_font import FAMILY
from landmarks.translation import _, language

_WINDOW_FONT = 'font-family="Andika"'


class GuidePictures(TypedDict):
    """The pictures that the guide shows, as SVG."""

    first_page: Markup
    practice: Markup
    own_stave: Markup


def svg_picture(width: int, height: int, layers: Iterable[Layer]) -> Markup:
    """Return a page of layers, the first lowest, as SVG whose words are set in the page's font."""
    markup = "".join(layer.markup for layer in layers)
    inside = markup.replace(_WINDOW_FONT, f'font-family="{FAMILY}"')
    return Markup(f'<svg viewBox="0 0 {width} {height}" aria-hidden="true">{inside}</svg>')


def guide_page(pictures: GuidePictures, folder: Path) -> str:
    """Return the guide as HTML, complete in itself; `folder` is where pupils' files are kept."""
    title = _("Landmark drills: the guide")
    return page_of(_template(), title, "guide.css", pictures=pictures, folder=folder)


def _template() -> str:
    templates = resources.files("drills.reports").joinpath("templates")
    name = f"guide.{language()}.html"
    return name if templates.joinpath(name).is_file() else "guide.en.html"
