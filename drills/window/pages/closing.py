"""The page that ends a session: the pupil's own grand stave, as it fills over the weeks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from drills.cards.card import Card
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.learning.response import State
from drills.window.pages.buttons import corner
from drills.window.pages.card_page import PageSetting
from drills.window.pages.long_stave import notes_on_stave
from landmarks.names import Naming
from landmarks.translation import _, ngettext


@dataclass(frozen=True)
class Today:
    """What a session came to."""

    before: Mapping[Card, State]
    """The states of the pupil's stave cards at the start."""
    after: Mapping[Card, State]
    found: int
    """Notes found."""
    followed: int
    """Lines of shapes followed."""
    near_before: Mapping[Card, float] = field(default_factory=dict)
    """How near (0 to 1) each note was to ink at the start."""
    near_after: Mapping[Card, float] = field(default_factory=dict)

    @property
    def met(self) -> dict[Card, State]:
        """The notes met so far, once each, and how they stand now."""
        of_place = {card.place: (card, state) for card, state in self.after.items()}
        return {card: state for card, state in of_place.values() if state is not State.NEW}

    @property
    def turned(self) -> list[Card]:
        """The notes that turned to ink today, from low to high."""
        return sorted(
            (
                card
                for card, state in self.met.items()
                if state is State.INK and self.before.get(card) is not State.INK
            ),
            key=lambda card: card.target,
        )

    @property
    def nearer(self) -> list[Card]:
        """The notes that came nearer to ink today without turning to it, from low to high."""
        return sorted(
            (
                card
                for card, state in self.met.items()
                if state is not State.INK
                and self.near_after.get(card, 0.0) > self.near_before.get(card, 0.0)
            ),
            key=lambda card: card.target,
        )


def closing_page(today: Today, setting: PageSetting) -> list[Layer]:
    """Return the layers of the last page: every note met so far, those nearer to ink ringed."""
    width, height = setting.width, setting.height
    box = Box(setting.margin, setting.margin, width - 2 * setting.margin, round(height * 0.74))
    layers = [rectangle(Box(0, 0, width, height), palette.PAPER)]
    layers += notes_on_stave(
        box, today.met.items(), [*today.turned, *today.nearer], today.near_after
    )
    middle, size, room = width / 2, height * setting.proportions.headline, 0.95 * width
    between = width - 2 * (corner(width, height, right=True).width + 2 * setting.margin)
    layers.append(text(_done(today), middle, height * 0.87, size, palette.INK, room))
    if detail := _detail(today, setting.naming):
        layers.append(text(detail, middle, height * 0.95, size * 0.6, palette.PENCIL, between))
    return layers


def _done(today: Today) -> str:
    notes = ngettext("{count} note found", "{count} notes found", today.found)
    lines = ngettext("{count} line followed", "{count} lines followed", today.followed)
    parts = [notes] * (today.found > 0 or not today.followed) + [lines] * (today.followed > 0)
    return _("{what} today").format(what=", ".join(parts))


def _detail(today: Today, naming: Naming) -> str:
    if today.turned:
        names = ", ".join(card.named(naming) for card in today.turned)
        return _("in ink now: {names}").format(names=names)
    if today.nearer:
        return ngettext(
            "{count} note came nearer to ink", "{count} notes came nearer to ink", len(today.nearer)
        )
    inked = sum(state is State.INK for state in today.met.values())
    pencilled = len(today.met) - inked
    if not inked:
        return _("{pencilled} in pencil").format(pencilled=pencilled) if pencilled else ""
    return _("{inked} in ink, {pencilled} in pencil").format(inked=inked, pencilled=pencilled)
