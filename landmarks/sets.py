"""Landmark sets: ordered anchors, and how far to step from each.

A set is a few lines of TOML, the same for the built-in sets and for a teacher's own:

    title = "My landmarks"
    anchors = [
        { clef = "treble", note = "G4" },                                  # one step each way
        { clef = "bass", note = "F3", steps_below = 0, steps_above = 4 },  # a fifth upwards
    ]
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from itertools import pairwise
from typing import Any

from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY, Pitch
from landmarks.stave import CLEFS, Clef

FURTHEST_STEP = 4
"""A fifth: the hand's own width over five keys, beyond which another landmark is nearer."""
DEFAULT_SET = "five"

_SET_KEYS = {"title", "about", "anchors"}
_ANCHOR_KEYS = {"clef", "note", "steps_below", "steps_above"}


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
        """Give the anchor nearest on the stave, in the same clef where the set has one.

        Of two anchors equally near the one taught first is given.
        """
        same_clef = [anchor for anchor in self.anchors if anchor.clef == clef]
        candidates = same_clef or list(self.anchors)
        return min(candidates, key=lambda anchor: abs(anchor.pitch.diatonic - pitch.diatonic))

    def neighbours(self) -> tuple[tuple[Anchor, Pitch], ...]:
        """Give every note around the anchors that is not an anchor itself, with its anchor.

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


def built_in_sets() -> dict[str, LandmarkSet]:
    """Give the landmark sets that come with the program, by name."""
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
        table = tomllib.loads(source)
    except tomllib.TOMLDecodeError as error:
        raise SetError(
            f"{origin}: this is not TOML ({error}); a set needs anchors = [...]"
        ) from None
    return _set_of(name, table, origin)


def _set_of(name: str, table: Mapping[str, Any], origin: str) -> LandmarkSet:
    _refuse_unknown(table, _SET_KEYS, origin)
    entries = table.get("anchors")
    if not isinstance(entries, list) or not entries:
        raise SetError(f"{origin}: anchors must be a list of at least one anchor")
    anchors = tuple(
        _anchor_of(entry, f"{origin}: anchor {n}") for n, entry in enumerate(entries, 1)
    )
    places = sorted((anchor.clef.name, anchor.pitch) for anchor in anchors)
    for (clef, pitch), following in pairwise(places):
        if (clef, pitch) == following:
            raise SetError(f"{origin}: {pitch} in the {clef} clef is listed twice; keep one")
    title, about = table.get("title", name), table.get("about", "")
    for entry, text in (("title", title), ("about", about)):
        if not isinstance(text, str):
            raise SetError(f"{origin}: {entry} must be a text in quotes, not {text!r}")
    return LandmarkSet(name, title, anchors, about)


def _anchor_of(entry: object, where: str) -> Anchor:
    if not isinstance(entry, dict):
        raise SetError(f'{where} must look like {{ clef = "treble", note = "G4" }}, not {entry!r}')
    _refuse_unknown(entry, _ANCHOR_KEYS, where)
    clef = CLEFS.get(entry.get("clef", ""))
    if clef is None:
        known = " or ".join(f'"{name}"' for name in CLEFS)
        raise SetError(f"{where}: clef must be {known}, not {entry.get('clef')!r}")
    pitch = _natural_piano_note(entry.get("note"), where)
    below, above = (_steps(entry, key, where) for key in ("steps_below", "steps_above"))
    for steps in (-below, above):
        if not LOWEST_PIANO_KEY <= pitch.stepped(steps).midi <= HIGHEST_PIANO_KEY:
            raise SetError(f"{where}: {steps:+d} steps from {pitch} leaves the piano (A0 to C8)")
    return Anchor(clef, pitch, below, above)


def _natural_piano_note(note: object, where: str) -> Pitch:
    try:
        pitch = Pitch.parse(note) if isinstance(note, str) else None
    except ValueError:
        pitch = None
    if pitch is None or pitch.alteration or not LOWEST_PIANO_KEY <= pitch.midi <= HIGHEST_PIANO_KEY:
        raise SetError(f'{where}: note must be a white key from "A0" to "C8", not {note!r}')
    return pitch


def _steps(entry: Mapping[str, Any], key: str, where: str) -> int:
    steps = entry.get(key, 1)
    if type(steps) is not int or not 0 <= steps <= FURTHEST_STEP:
        raise SetError(f"{where}: {key} must be a whole number from 0 to 4, not {steps!r}")
    return steps


def _refuse_unknown(table: Mapping[str, Any], known: set[str], where: str) -> None:
    for key in table:
        if key not in known:
            expected = ", ".join(sorted(known))
            raise SetError(f"{where}: {key!r} is not known here; expected are {expected}")
