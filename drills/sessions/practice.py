"""A practice session: cards one after another, answered on the piano, helped where missed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from drills.cards.card import Card, Kind
from drills.cards.card_rules import CardRule, rule_of
from drills.cards.help import Help
from drills.learning.response import Response, State
from drills.learning.scheduler import Climb, Scheduler
from drills.sessions.counting import why_not_counted
from drills.sessions.effects import Answered, CardAsked, Effect, RungReached
from drills.sessions.events import (
    AskAgain,
    Event,
    Hint,
    KeyPressed,
    KeyReleased,
    PianoRefused,
    Skip,
    Tell,
)
from drills.sessions.key_group import Press, split_brushed
from drills.sessions.piano_state import MIDDLE_C_CARD
from drills.sessions.timed_session import RIGHT_AFTER_HELP_MS, RIGHT_MS, Due, TimedSession
from drills.sessions.view import Phase, View
from landmarks.answer import Answer, Verdict


class Drill(TimedSession[View]):
    """One session: feed it events in the order they come, carry out the effects it gives."""

    def __init__(
        self,
        planner: Scheduler,
        started: datetime,
        climb: Climb | None = None,
        introduces: bool = False,
    ) -> None:
        """Prepare a session that starts at the aware datetime `started`, which is t = 0.

        `climb` tells of the pupil's moves on the ladder, if the planner has one. With
        `introduces`, a landmark that is not met yet is shown with its key and its name before it
        is asked, once a session.
        """
        super().__init__(View())
        self._planner = planner
        self._started = started
        self._climb = climb
        self._introduces = introduces
        self._introduced: set[Card] = set()
        self._misses = 0
        self._helped = False
        self._interruption: str | None = None
        self._put_aside: tuple[Card, str | None] | None = None

    def preview(self, key: int) -> View:
        """Return what would be seen at once if this key alone went down now; nothing changes."""
        answer = self.view.answer if self.view.tuning else self._judged(key)
        return replace(self.view, answer=answer, held=frozenset({key}))

    def _respond_further(self, event: Event, t: float) -> Iterator[Effect]:
        match event:
            case PianoRefused():
                yield self._show(replace(self.view, piano_refused=True))
            case AskAgain():
                yield from self._ask_again(t)
            case Skip():
                yield from self._settle(t)
                yield from self._go_on(t)
            case Hint():
                yield from self._help(lambda how: how.more_help(self.view.help), t)
            case Tell():
                yield from self._help(lambda how: how.told(), t)

    # Cards

    def _go_on(self, t: float) -> Iterator[Effect]:
        now = self._now(t)
        tuning = self._piano.is_untuned
        self._interruption = None
        card: Card | None
        if tuning:
            card = MIDDLE_C_CARD
        elif self._put_aside is not None:
            (card, self._interruption), self._put_aside = self._put_aside, None
        else:
            card = self._planner.next(now)
            yield from self._rungs(t)
        if card is None:
            yield from self._finish("done", t)
            return
        self._helped = False
        yield from self._ask(card, tuning, now)
        if self._is_to_meet(card):
            yield from self._introduce(card)

    def _ask(self, card: Card, tuning: bool, now: datetime) -> Iterator[Effect]:
        how = rule_of(card)
        state = State.NEW if card.kind is Kind.KEY else self._planner.standing(card, now).state
        self._due = None
        self._asked_at, self._attempt, self._misses = None, 1, 0
        self._group = []
        self._piano.ask()
        view = View(
            showing=self.view.showing + 1, card=card, state=state, tuning=tuning,
            help=how.first_help,
            landmark=how.landmark() if how.first_help is Help.LANDMARK else None,
            held=self.view.held, piano_lost=self.view.piano_lost,
            piano_refused=self.view.piano_refused,
        )  # fmt: skip
        yield self._show(view)

    def _is_to_meet(self, card: Card) -> bool:
        """Return whether a card is a landmark that has to be introduced now."""
        return (
            self._introduces
            and card.kind is Kind.LANDMARK
            and self.view.state is State.NEW
            and card not in self._introduced
        )

    def _introduce(self, card: Card) -> Iterator[Effect]:
        """Show a landmark with its key and name, and ask it after that without them."""
        self._introduced.add(card)
        self._put_aside = card, None
        self._helped = True
        yield self._show(replace(self.view, help=rule_of(card).told()))

    def _begin_to_wait(self, t: float) -> Iterator[Effect]:
        if self.view.card is not None:
            yield self._there_to_answer(t)

    def _there_to_answer(self, t: float) -> Effect:
        """Time the card, or the next move of its contour, from now on."""
        self._asked_at = t
        card = self._card()
        return CardAsked(t, card, card.recorded_name, self._move())

    def _ask_again(self, t: float) -> Iterator[Effect]:
        """Ask the card anew; what was told and not yet answered still stands against it."""
        yield from self._settle(t)
        if self.view.card is not None:
            yield from self._ask(self.view.card, self.view.tuning, self._now(t))

    def _help(self, wanted: Callable[[CardRule], Help], t: float) -> Iterator[Effect]:
        """Return help that the teacher asks for; an answer after it is the teacher's, too."""
        yield from self._settle(t)
        card = self.view.card
        if card is None or self.view.phase is not Phase.ASKED:
            return
        how = rule_of(card)
        help_given = max(self.view.help, wanted(how))
        if help_given is how.first_help:
            return
        self._helped = self._helped or self._attempt == 1
        yield self._show(replace(self.view, help=help_given, landmark=self._landmark()))

    def _stood_still(self) -> None:
        """Do not count the card that was asked meanwhile."""
        self._interrupt("stood still")

    def _interrupt(self, why: str) -> None:
        if self._asked_at is not None:
            self._interruption = self._interruption or why

    def _finished(self) -> View:
        return replace(self.view, phase=Phase.FINISHED, answer=None, help=Help.NONE)

    def _rungs(self, t: float) -> Iterator[Effect]:
        for reached in self._climb.reached() if self._climb else ():
            yield RungReached(t, reached)

    # Keys

    def _key_moved(self, event: KeyPressed | KeyReleased, t: float) -> Iterator[Effect]:
        key = self._piano.meant(event.key)
        if isinstance(event, KeyReleased):
            yield self._show(replace(self.view, held=self.view.held - {key}))
        elif key is not None:
            self._add_to_group(key, t)
            held = self.view.held | {key}
            yield self._show(replace(self.view, held=held, answer=self._at_once()))

    def _at_once(self) -> Answer | None:
        """Return the answer to draw before the group has settled: its right key or its first."""
        if not self._group or self.view.tuning:
            return self.view.answer
        answers = [self._judged(press.key) for press in self._group]
        return next((a for a in answers if a.verdict is Verdict.EXACT), answers[0])

    def _judged(self, key: int) -> Answer:
        return rule_of(self._card()).judged(key, self.view.move, self.view.last)

    def _judge(self, group: list[Press]) -> Iterator[Effect]:
        how = rule_of(self._card())
        brushed, kept = split_brushed(group, how.brushable([press.key for press in group]))
        for press in brushed:
            yield self._answered(press, Verdict.BRUSHED, "brushed")
        if len(kept) > 1:
            yield from self._clustered(kept[0])
        elif self.view.move < how.moves and self.view.last is None:
            yield from self._move_on(kept[0])
        else:
            yield from self._answer(kept[0])

    def _clustered(self, first: Press) -> Iterator[Effect]:
        yield self._answered(first, Verdict.CLUSTER, "cluster")
        self._attempt += 1
        answer = self._judged(first.key)
        yield self._show(replace(self.view, answer=replace(answer, verdict=Verdict.CLUSTER)))

    def _answer(self, press: Press) -> Iterator[Effect]:
        answer = self._judged(press.key)
        ms = press.t - self._shown()
        why_not = why_not_counted(ms, self._attempt, self._helped, self._interruption)
        yield self._answered(press, answer.verdict, why_not)
        right = answer.verdict is Verdict.EXACT
        if why_not is None:
            at = self._now(press.t)
            self._planner.record(Response(self._card(), at, ms / 1000, right, press.key))
        if right and self.view.move < rule_of(self._card()).moves:
            yield from self._move_on(press)
        elif right:
            yield from self._right(answer, press.t)
        elif why_not == "too soon":
            yield self._show(replace(self.view, answer=None))
        else:
            yield from self._wrong(answer)

    def _move_on(self, press: Press) -> Iterator[Effect]:
        """Go on to the next shape of a contour, which was there to be seen all the while."""
        self._attempt, self._misses, self._helped, self._interruption = 1, 0, False, None
        view = replace(
            self.view, move=self.view.move + 1, last=press.key, answer=None, help=Help.NONE
        )
        yield self._show(view)
        yield self._there_to_answer(press.t)

    def _right(self, answer: Answer, t: float) -> Iterator[Effect]:
        look = RIGHT_AFTER_HELP_MS if self._attempt > 1 or self._helped else RIGHT_MS
        self._due = Due(t + look, self._go_on)
        yield self._show(replace(self.view, phase=Phase.RIGHT, answer=answer))

    def _wrong(self, answer: Answer) -> Iterator[Effect]:
        self._attempt += 1
        self._misses += 1
        help_given = max(self.view.help, rule_of(self._card()).help_after(self._misses))
        yield self._show(
            replace(self.view, answer=answer, help=help_given, landmark=self._landmark())
        )

    def _answered(self, press: Press, verdict: Verdict, why_not: str | None) -> Effect:
        return Answered(
            press.t, self._card(), verdict, press.key, press.t - self._shown(), self._attempt,
            self._hints(), why_not, self._move(),
        )  # fmt: skip

    def _hints(self) -> int:
        """Return the help on the card; what belongs to the card is no hint."""
        given = self.view.help
        return 0 if given is rule_of(self._card()).first_help else int(given)

    # The piano

    def _piano_found(self, t: float) -> Iterator[Effect]:
        yield self._show(
            replace(self.view, piano_lost=False, piano_refused=False, held=frozenset())
        )
        card = self.view.card
        if card is None or self.view.phase is not Phase.ASKED:
            return
        self._interrupt("piano found")
        if self._piano.is_untuned and not self.view.tuning:
            # Its right key is not known on a piano that may be shifted.
            self._put_aside = card, "helped" if self._helped else self._interruption
            yield from self._go_on(t)

    def _piano_lost(self, t: float) -> Iterator[Effect]:
        self._interruption = "piano lost"
        yield self._show(replace(self.view, piano_lost=True, held=frozenset()))
        if self.view.tuning and self.view.phase is Phase.ASKED:
            yield from self._go_on(t)

    def _tuned(self, shift: int, t: float) -> Iterator[Effect]:
        self.view = replace(self.view, held=frozenset(key - shift for key in self.view.held))
        yield from self._right(self._judged(MIDDLE_C_CARD.key), t)

    # Small things

    def _card(self) -> Card:
        assert self.view.card is not None
        return self.view.card

    def _move(self) -> int | None:
        return self.view.move if self._card().kind is Kind.CONTOUR else None

    def _landmark(self) -> Card | None:
        return rule_of(self._card()).landmark()

    def _now(self, t: float) -> datetime:
        return self._started + timedelta(milliseconds=t)
