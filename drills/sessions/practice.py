"""A practice session as a pure state machine: (event, time) in, effects out.

The same code runs the window, a replay and a simulated pupil. Times are milliseconds since the
session's start; the machine has no clock of its own. What falls due between two events (an
answer that settles, the next card) happens at its own due time, however late the next event
comes, so that the same events give the same session.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from drills.cards.card import Card, Kind
from drills.cards.card_rules import Asking, asking
from drills.cards.help import Help
from drills.learning.response import Response, State
from drills.learning.scheduler import CardChooser, Climb
from drills.sessions.events import (
    AskAgain,
    Begin,
    Event,
    Hint,
    KeyPressed,
    KeyReleased,
    OnScreen,
    PianoFound,
    PianoLost,
    PianoRefused,
    ReadLate,
    Skip,
    StoodStill,
    Stop,
    Tell,
)
from drills.sessions.key_group import Press, parted
from drills.sessions.piano_state import MIDDLE_C_CARD, ConnectedPiano
from drills.sessions.record_lines import (
    answer_line,
    card_line,
    key_line,
    machine_line,
    milliseconds,
    rung_line,
)
from drills.sessions.records import Ended
from drills.sessions.view import Effect, Phase, Present, RememberPiano, View, Write
from landmarks.answer import Answer, Verdict
from landmarks.sets import LandmarkSet

SETTLE_MS = 50.0
"""Keys that go down within this time belong to one touch. Common practice, no source."""
TOO_SOON_MS = 150.0
"""An answer sooner than this began before the card was seen: the floor of simple reaction
times is near 100 ms (Luce 1986, from memory), and choosing a key adds to it."""
PAUSE_MS = 30_000.0
"""Beyond this the pupil was away or helped, not reading. Common practice, no source."""
LONG_STANDSTILL_MS = 30 * 60_000.0
"""A machine that slept longer ends the session: by its clock, later answers would be misdated."""
RIGHT_MS = 900.0
"""How long a found note is looked at before the next card."""
RIGHT_AFTER_HELP_MS = 1600.0


@dataclass(frozen=True)
class _Due:
    t: float
    action: Callable[[float], Iterator[Effect]]


class Drill:
    """One session: feed it events in the order they come, carry out the effects it gives."""

    def __init__(
        self,
        planner: CardChooser,
        landmarks: LandmarkSet,
        started: datetime,
        climb: Climb | None = None,
    ) -> None:
        """Prepare a session that starts at the aware datetime `started`, which is t = 0.

        `climb` tells of the pupil's moves on the ladder, if the planner has one.
        """
        self._planner = planner
        self._landmarks = landmarks
        self._started = started
        self._climb = climb
        self.view = View()
        self._shown_at: float | None = None
        self._attempt = 1
        self._misses = 0
        self._helped = False
        self._interruption: str | None = None
        self._put_aside: tuple[Card, str | None] | None = None
        self._touch: list[Press] = []
        self._due: _Due | None = None
        self._piano = ConnectedPiano()

    def handle(self, event: Event, t: float) -> list[Effect]:
        """Take in what happened at `t` (milliseconds); give what is to be done, in order."""
        effects = list(self._fall_due(t))
        if self.view.phase is not Phase.FINISHED:
            effects += self._respond(event, t)
        return effects

    @property
    def due(self) -> float | None:
        """When (milliseconds) something happens of itself, if nothing else comes before."""
        return None if self._due is None else self._due.t

    def preview(self, key: int) -> View:
        """Give what would be seen at once if this key alone went down now; nothing changes."""
        answer = self.view.answer if self.view.tuning else self._judged(key)
        return replace(self.view, answer=answer, held=frozenset({key}))

    def _fall_due(self, t: float) -> Iterator[Effect]:
        while self._due is not None and self._due.t <= t:
            due, self._due = self._due, None
            yield from due.action(due.t)

    def _respond(self, event: Event, t: float) -> Iterator[Effect]:
        match event:
            case Begin():
                yield from self._next_card(t)
            case OnScreen(showing):
                yield from self._on_screen(showing, t)
            case KeyPressed():
                yield from self._pressed(event, t)
            case KeyReleased(key):
                yield Write(key_line(event, t))
                held = self.view.held - {self._piano.meant(key)}
                yield self._show(replace(self.view, held=held))
            case PianoFound():
                yield from self._piano_found(event, t)
            case PianoLost(port):
                yield from self._piano_lost(port, t)
            case PianoRefused() | StoodStill() | ReadLate():
                yield from self._hindered(event, t)
            case AskAgain():
                yield from self._ask_again(t)
            case Skip():
                yield from self._settle(t)
                yield from self._next_card(t)
            case Hint():
                yield from self._help(lambda how: how.more_help(self.view.help), t)
            case Tell():
                yield from self._help(lambda how: how.told(), t)
            case Stop(why):
                yield from self._settle(t)
                yield from self._finish(why, t)

    # Cards

    def _next_card(self, t: float) -> Iterator[Effect]:
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

    def _ask(self, card: Card, tuning: bool, now: datetime) -> Iterator[Effect]:
        how = asking(card)
        state = State.NEW if card.kind is Kind.KEY else self._planner.standing(card, now).state
        self._due = None
        self._shown_at, self._attempt, self._misses = None, 1, 0
        self._touch = []
        self._piano.ask()
        view = View(
            showing=self.view.showing + 1, card=card, state=state, tuning=tuning,
            help=how.first_help,
            landmark=how.landmark(self._landmarks) if how.first_help is Help.LANDMARK else None,
            held=self.view.held, piano_lost=self.view.piano_lost,
            piano_refused=self.view.piano_refused,
        )  # fmt: skip
        yield self._show(view)

    def _on_screen(self, showing: int, t: float) -> Iterator[Effect]:
        card = self.view.card
        if card is None or showing != self.view.showing or self._shown_at is not None:
            return
        yield self._there_to_answer(t)

    def _there_to_answer(self, t: float) -> Effect:
        """Time the card, or the next move of its contour, from now on."""
        self._shown_at = t
        return Write(card_line(self.view, t))

    def _ask_again(self, t: float) -> Iterator[Effect]:
        """Ask the card anew; what was told and not yet answered still stands against it."""
        yield from self._settle(t)
        if self.view.card is not None:
            yield from self._ask(self.view.card, self.view.tuning, self._now(t))

    def _help(self, wanted: Callable[[Asking], Help], t: float) -> Iterator[Effect]:
        """Give help that the teacher asks for; an answer after it is the teacher's, too."""
        yield from self._settle(t)
        card = self.view.card
        if card is None or self.view.phase is not Phase.ASKED:
            return
        how = asking(card)
        help_given = max(self.view.help, wanted(how))
        if help_given is how.first_help:
            return
        self._helped = self._helped or self._attempt == 1
        yield self._show(replace(self.view, help=help_given, landmark=self._landmark()))

    def _hindered(self, event: PianoRefused | StoodStill | ReadLate, t: float) -> Iterator[Effect]:
        match event:
            case PianoRefused():
                yield self._show(replace(self.view, piano_refused=True))
            case StoodStill(ms):
                yield from self._stood_still(ms, t)
            case ReadLate(ms):
                yield Write(machine_line("read late", ms, t))

    def _stood_still(self, ms: float, t: float) -> Iterator[Effect]:
        """Do not count the card that was asked meanwhile; end if it was for long."""
        yield from self._settle(t)
        yield Write(machine_line("stood still", ms, t))
        if ms > LONG_STANDSTILL_MS:
            yield from self._finish("stood still", t)
        elif self._shown_at is not None:
            self._interruption = self._interruption or "stood still"

    def _finish(self, why: str, t: float) -> Iterator[Effect]:
        self._due = None
        yield self._show(replace(self.view, phase=Phase.FINISHED, answer=None, help=Help.NONE))
        yield Write(Ended(t=milliseconds(t), why=why))

    # Keys

    def _pressed(self, event: KeyPressed, t: float) -> Iterator[Effect]:
        yield Write(key_line(event, t))
        key = self._piano.meant(event.key)
        if key is None:
            return
        self._touched(key, t)
        yield self._show(replace(self.view, held=self.view.held | {key}, answer=self._at_once()))

    def _touched(self, key: int, t: float) -> None:
        """Add a key to the touch that is being made, if there is a card to answer."""
        asked = self.view.phase is Phase.ASKED and self._shown_at is not None
        again = any(press.key == key for press in self._touch)
        if not asked or again or t < self._shown():
            return
        self._touch.append(Press(key, t))
        if self._due is None:
            self._due = _Due(t + SETTLE_MS, self._settle)

    def _at_once(self) -> Answer | None:
        """Give the answer to draw before the touch has settled: its right key or its first."""
        if not self._touch or self.view.tuning:
            return self.view.answer
        answers = [self._judged(press.key) for press in self._touch]
        return next((a for a in answers if a.verdict is Verdict.EXACT), answers[0])

    def _judged(self, key: int) -> Answer:
        return asking(self._card()).judged(key, self.view.move, self.view.last)

    def _settle(self, t: float) -> Iterator[Effect]:
        """Judge the touch that is being made, if there is one."""
        touch, self._touch = self._touch, []
        card = self.view.card
        if card is None or not touch:
            return
        self._due = None
        if self.view.tuning:
            yield from self._tune(touch, t)
            return
        brushed, kept = parted(touch, asking(card).brushable([press.key for press in touch]))
        for press in brushed:
            yield self._answered(press, Verdict.BRUSHED, "brushed")
        if len(kept) > 1:
            yield from self._clustered(kept[0])
        elif self.view.move < asking(card).moves and self.view.last is None:
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
        why_not = self._why_not(press)
        yield self._answered(press, answer.verdict, why_not)
        right = answer.verdict is Verdict.EXACT
        if why_not is None:
            seconds = (press.t - self._shown()) / 1000
            at = self._now(press.t)
            self._planner.record(Response(self._card(), at, seconds, right, press.key))
        if right and self.view.move < asking(self._card()).moves:
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
        self._due = _Due(t + look, self._next_card)
        yield self._show(replace(self.view, phase=Phase.RIGHT, answer=answer))

    def _wrong(self, answer: Answer) -> Iterator[Effect]:
        self._attempt += 1
        self._misses += 1
        help_given = max(self.view.help, asking(self._card()).help_after(self._misses))
        yield self._show(
            replace(self.view, answer=answer, help=help_given, landmark=self._landmark())
        )

    def _why_not(self, press: Press) -> str | None:
        after = press.t - self._shown()
        reasons = (
            ("too soon", after < TOO_SOON_MS),
            ("later attempt", self._attempt > 1),
            ("helped", self._helped),
            (self._interruption, self._interruption is not None),
            ("pause", after > PAUSE_MS),
        )
        return next((reason for reason, holds in reasons if holds), None)

    def _answered(self, press: Press, verdict: Verdict, why_not: str | None) -> Effect:
        line = answer_line(self.view, press, self._shown(), self._attempt, verdict, why_not)
        return Write(line)

    # The piano

    def _piano_found(self, event: PianoFound, t: float) -> Iterator[Effect]:
        yield from self._settle(t)
        self._piano.connect(event)
        yield Write(self._piano.line(t, "found"))
        yield self._show(
            replace(self.view, piano_lost=False, piano_refused=False, held=frozenset())
        )
        card = self.view.card
        if card is None or self.view.phase is not Phase.ASKED:
            return
        if self._shown_at is not None:
            self._interruption = self._interruption or "piano found"
        if event.shift is None and not self.view.tuning:
            # Its right key is not known on a piano that may be shifted.
            self._put_aside = card, "helped" if self._helped else self._interruption
            yield from self._next_card(t)

    def _piano_lost(self, port: str, t: float) -> Iterator[Effect]:
        if self._piano.port != port:
            return
        yield from self._settle(t)
        yield Write(self._piano.line(t, "lost"))
        self._piano.disconnect()
        self._interruption = "piano lost"
        yield self._show(replace(self.view, piano_lost=True, held=frozenset()))
        if self.view.tuning and self.view.phase is Phase.ASKED:
            yield from self._next_card(t)

    def _tune(self, touch: list[Press], t: float) -> Iterator[Effect]:
        tuning, port = self._piano.tune(touch), self._piano.port
        yield self._answered(tuning.press, tuning.verdict, "tuning")
        shift = tuning.shift
        if shift is None or port is None:
            self._attempt += 1
            yield self._show(replace(self.view, tuning_again=True))
            return
        yield Write(self._piano.line(t, "tuned"))
        yield RememberPiano(port, shift)
        self.view = replace(self.view, held=frozenset(key - shift for key in self.view.held))
        yield from self._right(self._judged(tuning.press.key), tuning.press.t)

    def _rungs(self, t: float) -> Iterator[Effect]:
        for reached in self._climb.reached() if self._climb else ():
            yield Write(rung_line(reached, t))

    # Small things

    def _show(self, view: View) -> Effect:
        self.view = view
        return Present(view)

    def _card(self) -> Card:
        assert self.view.card is not None
        return self.view.card

    def _landmark(self) -> Card | None:
        return asking(self._card()).landmark(self._landmarks)

    def _shown(self) -> float:
        assert self._shown_at is not None
        return self._shown_at

    def _now(self, t: float) -> datetime:
        return self._started + timedelta(milliseconds=t)
