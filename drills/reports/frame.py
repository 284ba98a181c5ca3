"""What every page has in common: a template, one file that asks the network for nothing."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from drills.learning.response import State
from drills.reports.page_font import font_face
from drills.reports.stave_picture import HATCHING, note_sample
from drills.text import formatting
from drills.text.printable import printable
from landmarks.translation import _, gettext_noop, language, ngettext

STATE_WORDS = {
    State.INK: gettext_noop("in ink: secured"),
    State.PENCIL: gettext_noop("in pencil: not yet secured"),
    State.FADED: gettext_noop("faded: was secured, to be shown again"),
    State.NEW: gettext_noop("dotted: not met yet"),
}
PARENT_WORDS = {
    State.INK: gettext_noop("in ink: found surely and soon"),
    State.PENCIL: gettext_noop("in pencil: still being learnt"),
    State.FADED: gettext_noop("faded: to be played again"),
    State.NEW: gettext_noop("dotted: not met yet"),
}


def page_of(
    template: str, title: str, style: str = "review.css", scripts: bool = False, **values: object
) -> str:
    """Return a whole page, complete in itself, of a template and the values it asks for.

    Whatever a value holds is shown as it stands: only `Markup` is taken for HTML. `scripts` allows
    those that the template has itself.
    """
    title = printable(title)
    content = Markup(_environment().get_template(template).render(values, title=title))
    return _environment().get_template("frame.html").render(
        language=language(), title=title, style=style, content=content, scripts=scripts,
        font_face=Markup(font_face(f"<title>{Markup.escape(title)}</title>{content}")),
    )  # fmt: skip


def _written(value: object) -> object:
    """Return a value as it can be written down: a file's name or a title may be no text."""
    return printable(value) if type(value) is str else value


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("drills.reports"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True, finalize=_written,
    )  # fmt: skip
    environment.globals.update(
        _=_, ngettext=ngettext, decimal=formatting.decimal, listed=formatting.listed,
        long_day=formatting.long_day, note_sample=note_sample, hatching=Markup(HATCHING),
        state_words=STATE_WORDS, parent_words=PARENT_WORDS,
    )  # fmt: skip
    return environment
