"""What comes of listening beside what comes of every session."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from drills.sessions.effects import Recorded

if TYPE_CHECKING:
    from drills.learning.prior_knowledge.finding import Finding, Item


@dataclass(frozen=True)
class ItemBegun(Recorded):
    """An item is there to be played from `t` on; `attempt` counts how often it was begun."""

    item: Item
    attempt: int


@dataclass(frozen=True)
class ToneSounded(Recorded):
    """The program sounds a key at `t`, softly."""

    key: int


@dataclass(frozen=True)
class ItemHeard(Recorded):
    """What was heard of an item."""

    finding: Finding
