"""Beginning a session at the piano: what is asked, by what clock, into which file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from drills.app.practice_context import PracticeContext
from drills.app.session_clock import SessionClock
from drills.cards.card import Card, Kind
from drills.learning.scheduler import Climb, Scheduler
from drills.sessions.practice import Drill
from drills.sessions.records import Use
from drills.storage.recorder import Recorder
from drills.storage.studio import Pupil, Studio
from landmarks.stave import Clef


@dataclass(frozen=True)
class Practice:
    """What a pupil practises: the cards, what chooses among them, and the ladder if one leads."""

    context: PracticeContext
    cards: tuple[Card, ...]
    chooser: Scheduler
    climb: Climb | None = None
    introduces: bool = False
    """Whether a landmark is introduced before it is asked: to whoever knows no stave."""

    def drill(self, started: datetime) -> Drill:
        """Return the state machine of a session that starts at an aware time."""
        return Drill(self.chooser, started, self.climb, self.introduces)


@dataclass(frozen=True)
class OpenSession:
    """A session that has begun: its clock, and what writes its file, to be closed at its end."""

    recorder: Recorder
    clock: SessionClock


def practice_of(
    pupil: Pupil, context: PracticeContext, seed: int, only: Clef | None = None
) -> Practice:
    """Return what a pupil practises at home: what the plan asks for, or else the ladder does.

    With `only`, what is asked on a stave is asked on that of this clef alone, without the ladder.
    """
    plan = context.plan
    if (
        only is None
        and plan is None
        and context.settings.ladder
        and context.observations is not None
    ):
        return _on_the_ladder(pupil, context, seed)
    asked = None if plan is None else plan.asked(context.landmarks)
    further = [card for card in asked or () if card not in context.cards]
    cards = (*context.cards, *further)
    minutes = None if plan is None else float(plan.minutes)
    if only is not None:
        asked = tuple(card for card in asked or cards if card.kind is Kind.KEY or card.clef == only)
    now = datetime.now().astimezone()
    planner = context.planner(cards, pupil, seed, now, minutes, asked)
    return Practice(context, cards, planner)


def begin_session(
    studio: Studio, pupil: Pupil, context: PracticeContext, seed: int, use: Use
) -> OpenSession:
    """Begin a session now; its file is made with its first record."""
    clock = SessionClock()
    return OpenSession(Recorder(studio, pupil, context.landmarks, seed, clock, use=use), clock)


def _on_the_ladder(pupil: Pupil, context: PracticeContext, seed: int) -> Practice:
    from drills.learning.ladder.chooser import LadderChooser
    from drills.learning.ladder.material import ladder_cards

    decisions = () if context.observations is None else context.observations.decisions
    chooser = LadderChooser(
        ladder_cards(context.landmarks), context.prior_knowledge, tuple(pupil.responses()),
        decisions, seed, float(context.settings.minutes), context.fluency,
        context.settings.upkeep,
    )  # fmt: skip
    knows_no_stave = "reads-stave" in context.prior_knowledge.denied
    return Practice(context, context.cards, chooser, chooser, introduces=knows_no_stave)
