"""What can be seen of listening at one moment: never what sounds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drills.learning.prior_knowledge.finding import Finding, Item
from drills.sessions.view import TimedView


class Stage(StrEnum):
    """How far an item is: it waits, it is given, the pupil plays, it was heard."""

    READY = "ready"
    GIVEN = "given"
    ANSWER = "answer"
    HEARD = "heard"


@dataclass(frozen=True, kw_only=True)
class ListeningView(TimedView):
    """The item of the moment; `played` counts what the pupil has played of `wanted`, 0 if free."""

    item: Item = Item.PULSE
    stage: Stage = Stage.READY
    played: int = 0
    wanted: int = 0
    finding: Finding | None = None
