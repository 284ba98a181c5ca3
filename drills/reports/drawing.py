"""SVG pictures of a page: what is words in them is escaped, what is numbers is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from markupsafe import Markup

_NONE: Mapping[str, str] = MappingProxyType({})


def picture(
    marks: Iterable[str],
    box: tuple[float, float, float, float],
    label: str = "",
    kind: str = "",
    attributes: Mapping[str, str] = _NONE,
) -> Markup:
    """Return an SVG of marks, which are markup already, in a box (left, top, width, height).

    With a label it is an image that is read aloud; without one it is hidden from screen readers,
    because words beside it tell the same.
    """
    spoken = {"role": "img", "aria-label": label} if label else {"aria-hidden": "true"}
    own = {"class": kind} if kind else {}
    view = {"viewBox": " ".join(f"{number:g}" for number in box)}
    return Markup("<svg{}>{}</svg>").format(
        _attributes(own | spoken | view | dict(attributes)), Markup("".join(marks))
    )


def words(text: str, x: float, y: float, kind: str = "") -> Markup:
    """Return words at a place, centred unless their kind says otherwise."""
    own = {"x": f"{x:g}", "y": f"{y:g}"} | ({"class": kind} if kind else {})
    return Markup("<text{}>{}</text>").format(_attributes(own), text)


def _attributes(values: Mapping[str, str]) -> Markup:
    return Markup("").join(Markup(' {}="{}"').format(name, value) for name, value in values.items())
