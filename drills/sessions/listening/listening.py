"""Listening to a pupil: pulse, echo, higher and lower, one after the other, each half a minute.

Any keys will do, so the piano's shift does not matter. Each item can be skipped and repeated; what
was heard of it stays on the page until the teacher goes on.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from drills.learning.prior_knowledge.finding import Item
from drills.sessions.effects import Effect
from drills.sessions.events import (
    AskAgain,
    Event,
    KeyPressed,
    KeyReleased,
    Skip,
    SoundIt,
)
from drills.sessions.key_group import Press
from drills.sessions.listening.effects import ItemBegun, ItemHeard, ToneSounded
from drills.sessions.listening.parts import DirectionPart, EchoPart, Part, PulsePart, Sound
from drills.sessions.listening.view import ListeningView, Stage
from drills.sessions.timed_session import SETTLE_MS, Due, TimedSession
from drills.sessions.view import Phase

ITEMS = (Item.PULSE, Item.ECHO, Item.DIRECTION)


class Listening(TimedSession[ListeningView]):
    """One session of listening: feed it events in the order they come, carry out its effects."""

    def __init__(self, seed: int, items: Sequence[Item] = ITEMS) -> None:
        """Prepare to listen for `items`; `seed` chooses the tones."""
        super().__init__(ListeningView(item=items[0]))
        self._seed = seed
        self._items = list(items)
        self._attempts: Counter[Item] = Counter()
        self._part: Part = self._part_of(items[0])
        self._sounds: list[Sound] = []
        self._latest: float | None = None

    def _go_on(self, t: float) -> Iterator[Effect]:
        """Begin the next item, or finish."""
        if not self._items:
            yield from self._finish("done", t)
            return
        yield from self._begin(self._items.pop(0))

    def _begin(self, item: Item) -> Iterator[Effect]:
        self._part, self._due, self._asked_at = self._part_of(item), None, None
        self._sounds, self._latest = [], None
        yield self._show(
            ListeningView(showing=self.view.showing + 1, item=item, wanted=self._part.wanted)
        )

    def _part_of(self, item: Item) -> Part:
        if item is Item.PULSE:
            return PulsePart()
        if item is Item.ECHO:
            return EchoPart()
        return DirectionPart(self._seed + self._attempts[item])

    def _begin_to_wait(self, t: float) -> Iterator[Effect]:
        self._asked_at = t
        self._attempts[self.view.item] += 1
        yield ItemBegun(t, self.view.item, self._attempts[self.view.item])

    def _respond_further(self, event: Event, t: float) -> Iterator[Effect]:
        match event:
            case SoundIt() if self._asked_at is not None:
                self._sounds = self._part.sound_it(t) or self._sounds
                yield from self._follow()
            case AskAgain():
                yield from self._begin(self.view.item)
            case Skip():
                yield from self._go_on(t)

    # Keys

    def _key_moved(self, event: KeyPressed | KeyReleased, t: float) -> Iterator[Effect]:
        """Take the first of the keys that go down together."""
        if not isinstance(event, KeyPressed) or self._asked_at is None or t < self._asked_at:
            return
        together = self._latest is not None and t - self._latest < SETTLE_MS
        self._latest = t
        if not together and self._part.stage is not Stage.HEARD:
            yield from self._judge([Press(event.key, t)])

    def _judge(self, group: list[Press]) -> Iterator[Effect]:
        self._part.press(group[0])
        yield from self._follow()

    # What falls due

    def _follow(self) -> Iterator[Effect]:
        """Show how far the item is, and wait for what sounds or ends next."""
        stage, played = self._part.stage, self._part.played
        if (stage, played) != (self.view.stage, self.view.played):
            yield self._show(replace(self.view, stage=stage, played=played))
        ends = self._part.ends
        if self._sounds:
            self._due = Due(self._sounds[0].t, self._sound)
        else:
            self._due = None if ends is None else Due(ends, self._end)

    def _sound(self, t: float) -> Iterator[Effect]:
        sound = self._sounds.pop(0)
        yield ToneSounded(t, sound.key)
        yield from self._follow()

    def _end(self, t: float) -> Iterator[Effect]:
        """Go on to the item's next stage."""
        self._sounds = self._part.end(t)
        if self._part.stage is not Stage.HEARD:
            yield from self._follow()
            return
        finding = self._part.finding()
        yield ItemHeard(t, finding)
        yield self._show(
            replace(
                self.view, stage=Stage.HEARD, played=self._part.played, finding=finding,
                phase=Phase.RIGHT,
            )
        )  # fmt: skip

    # The piano

    def _piano_found(self, t: float) -> Iterator[Effect]:
        yield from ()

    def _piano_lost(self, t: float) -> Iterator[Effect]:
        """Begin the item anew: what was played over a lost cable tells nothing."""
        if self._part.stage is not Stage.HEARD:
            yield from self._begin(self.view.item)

    def _tuned(self, shift: int, t: float) -> Iterator[Effect]:
        yield from ()
