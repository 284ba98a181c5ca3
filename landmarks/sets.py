"""Landmark sets: ordered anchors, and how far to step from each.

A set is a few lines of TOML, the same for the built-in sets and for a teacher's own:

    title = "My landmarks"
    anchors = [
        { clef = "treble", note = "G4" },                                  # one step each way
        { clef = "bass", note = "F3", steps_below = 0, steps_above = 4 },  # a fifth upwards
    ]
"""

from __future__ import annotations

import reprlib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Any

from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY, Pitch
from landmarks.stave import CLEFS, Clef
from landmarks.translation import _

FURTHEST_STEP = 4
"""A fifth: the hand's own width over five keys, beyond which another landmark is nearer."""
DEFAULT_SET = "five"

_LOWEST, _HIGHEST = Pitch.of_key(LOWEST_PIANO_KEY), Pitch.of_key(HIGHEST_PIANO_KEY)
_SET_KEYS = {"title", "about", "anchors"}
_ANCHOR_KEYS = {"clef", "note", "steps_below", "steps_above"}
_LIKE_THIS = 'anchors = [{ clef = "treble", note = "G4" }]'


class SetError(ValueError):
    """A landmark set that cannot be used; its one sentence names the place and what to put."""


@dataclass(frozen=True)
class Anchor:
    """A landmark note in a clef, and how many steps below and above it belong to it (0 to 4)."""

    clef: Clef
    pitch: Pitch
    steps_below: int = 1
    steps_above: int = 1


@dataclass(frozen=True)
class LandmarkSet:
    """A named, ordered set of anchors: the first one is the first one taught."""

    name: str
    title: str
    anchors: tuple[Anchor, ...]
    about: str = ""

    def nearest(self, pitch: Pitch, clef: Clef) -> Anchor:
        """Return the anchor nearest on the stave, in the same clef where the set has one.

        Of two anchors equally near the one taught first is given.
        """
        same_clef = [anchor for anchor in self.anchors if anchor.clef == clef]
        candidates = same_clef or list(self.anchors)
        return min(candidates, key=lambda anchor: abs(anchor.pitch.diatonic - pitch.diatonic))

    def neighbours(self) -> tuple[tuple[Anchor, Pitch], ...]:
        """Return every note around the anchors that is not an anchor itself, with its anchor.

        Nearer steps come before further ones; a note within reach of two anchors is given
        once, with the nearer.
        """
        taken = {(anchor.clef, anchor.pitch) for anchor in self.anchors}
        found = []
        for distance in range(1, FURTHEST_STEP + 1):
            for anchor in self.anchors:
                for steps in (distance, -distance):
                    place = (anchor.clef, anchor.pitch.stepped(steps))
                    if -anchor.steps_below <= steps <= anchor.steps_above and place not in taken:
                        taken.add(place)
                        found.append((anchor, place[1]))
        return tuple(found)

    def holes(self) -> tuple[tuple[Clef, Pitch], ...]:
        """Return the places that the set passes over, the clefs in the order of its anchors.

        In each clef these are the lines and spaces between its lowest and its highest note that
        are neither a landmark nor among the steps around one, from the lowest upwards.

        >>> [str(pitch) for _clef, pitch in built_in_sets()["five"].holes()]
        ['E4', 'A3']
        """
        asked: dict[Clef, set[int]] = {}
        for anchor in self.anchors:
            asked.setdefault(anchor.clef, set()).add(anchor.pitch.diatonic)
        for anchor, pitch in self.neighbours():
            asked[anchor.clef].add(pitch.diatonic)
        return tuple(
            (clef, Pitch(place))
            for clef, places in asked.items()
            for place in range(min(places), max(places))
            if place not in places
        )


def built_in_sets() -> dict[str, LandmarkSet]:
    """Return the landmark sets that come with the program, by name."""
    source = resources.files("landmarks").joinpath("sets.toml").read_text(encoding="utf-8")
    return {
        name: _set_of(name, table, f"the built-in set {name}")
        for name, table in tomllib.loads(source).items()
    }


def parse_set(source: str, name: str, origin: str) -> LandmarkSet:
    """Read a teacher's own set from TOML text; `origin` says where it came from.

    SetError if it cannot be used, in one sentence naming the origin, the entry and what is
    expected there.
    """
    try:
        # Some editors begin a file with a byte order mark, which TOML 1.0 does not allow.
        table = tomllib.loads(source.removeprefix("\ufeff"))
    except (ValueError, RecursionError) as error:
        misspelled = isinstance(error, tomllib.TOMLDecodeError)
        reason = error if misspelled else _("a number or a list in it is too long")
        raise SetError(
            _("{origin}: not readable as TOML, {reason}; expected is {like_this}").format(
                origin=origin, reason=reason, like_this=_LIKE_THIS
            )
        ) from None
    return _set_of(name, table, origin)


def _set_of(name: str, table: Mapping[str, Any], origin: str) -> LandmarkSet:
    _refuse_unknown(table, _SET_KEYS, origin)
    entries = table.get("anchors")
    if not isinstance(entries, list) or not entries:
        raise SetError(
            _("{origin}: anchors must list at least one anchor: {like_this}").format(
                origin=origin, like_this=_LIKE_THIS
            )
        )
    anchors = tuple(
        _anchor_of(entry, _("{origin}: anchor {n}").format(origin=origin, n=n))
        for n, entry in enumerate(entries, 1)
    )
    _refuse_repeated(anchors, origin)
    title, about = _line(table, "title", name, origin), _line(table, "about", "", origin)
    return LandmarkSet(name, title, anchors, about)


def _anchor_of(entry: object, where: str) -> Anchor:
    if not isinstance(entry, dict):
        raise SetError(
            _('{where} must look like {{ clef = "treble", note = "G4" }}, not {entry}').format(
                where=where, entry=_seen(entry)
            )
        )
    _refuse_unknown(entry, _ANCHOR_KEYS, where)
    clef = _clef(entry.get("clef"), where)
    pitch = _natural_piano_note(entry.get("note"), where)
    below = _steps(entry, "steps_below", pitch.diatonic - _LOWEST.diatonic, where)
    above = _steps(entry, "steps_above", _HIGHEST.diatonic - pitch.diatonic, where)
    return Anchor(clef, pitch, below, above)


def _clef(name: object, where: str) -> Clef:
    clef = CLEFS.get(name) if isinstance(name, str) else None
    if clef is None:
        known = _(" or ").join(f'"{name}"' for name in CLEFS)
        raise SetError(
            _("{where}: clef must be {known}, not {name}").format(
                where=where, known=known, name=_seen(name)
            )
        )
    return clef


def _natural_piano_note(note: object, where: str) -> Pitch:
    try:
        pitch = Pitch.parse(note) if isinstance(note, str) else None
    except ValueError:
        pitch = None
    if pitch is None or pitch.alteration or not _LOWEST <= pitch <= _HIGHEST:
        raise SetError(
            _(
                '{where}: note must be a white key from "A0" to "C8" (letters A to G, middle C is '
                '"C4"), not {note}'
            ).format(where=where, note=_seen(note))
        )
    return pitch


def _steps(entry: Mapping[str, Any], key: str, room: int, where: str) -> int:
    steps = entry.get(key, 1)
    if type(steps) is not int or not 0 <= steps <= FURTHEST_STEP:
        raise SetError(
            _("{where}: {key} must be a whole number from 0 to 4, not {steps}").format(
                where=where, key=key, steps=_seen(steps)
            )
        )
    if steps > room:
        raise SetError(
            _(
                "{where}: {key} (1 unless given) must be at most {room} here, where the piano "
                "ends, not {steps}"
            ).format(where=where, key=key, room=room, steps=steps)
        )
    return steps


def _line(table: Mapping[str, Any], key: str, default: str, origin: str) -> str:
    text = table.get(key, default)
    if not isinstance(text, str) or len(text.splitlines()) > 1:
        raise SetError(
            _("{origin}: {key} must be one line of text in quotes, not {text}").format(
                origin=origin, key=key, text=_seen(text)
            )
        )
    return text


def _refuse_repeated(anchors: tuple[Anchor, ...], origin: str) -> None:
    first: dict[tuple[Clef, Pitch], int] = {}
    for n, anchor in enumerate(anchors, 1):
        earlier = first.setdefault((anchor.clef, anchor.pitch), n)
        if earlier != n:
            place = _("{note} in the {clef} clef").format(
                note=anchor.pitch, clef=_(anchor.clef.name)
            )
            raise SetError(
                _("{origin}: anchor {n} is {place}, as anchor {earlier} is; keep one").format(
                    origin=origin, n=n, place=place, earlier=earlier
                )
            )


def _refuse_unknown(table: Mapping[str, Any], known: set[str], where: str) -> None:
    for key in table:
        if key not in known:
            expected = ", ".join(sorted(known))
            raise SetError(
                _("{where}: {key} is not known here; expected are {expected}").format(
                    where=where, key=_seen(key), expected=expected
                )
            )


def _seen(value: object) -> str:
    """Show a value much as TOML writes it, in a few words."""
    match value:
        case None:
            seen = _("left out")
        case bool():
            seen = str(value).lower()
        case str():
            seen = reprlib.repr(value)
        case list():
            seen = _("a list")
        case dict():
            seen = _("a table")
        case int() if abs(value) >= 2**63:
            seen = _("so long a number")
        case _:
            seen = str(value)
    return seen
