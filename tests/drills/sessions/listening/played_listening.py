"""A session of listening that is played by script: what falls due happens in between."""

from __future__ import annotations

from drills.learning.prior_knowledge.finding import Item
from drills.sessions.effects import Effect
from drills.sessions.events import Begin, KeyPressed, OnScreen, PianoFound, SoundIt, TimePassed
from drills.sessions.listening.effects import ItemHeard, ToneSounded
from drills.sessions.listening.listening import ITEMS, Listening


class PlayedListening:
    """Plays events into a session at the times they are said to have."""

    def __init__(self, items=ITEMS, seed=1):
        self.session = Listening(seed, items)
        self.effects: list[Effect] = []
        self.now = 0.0
        self.do(PianoFound("Stage piano", "driver", None))
        self.do(Begin())
        self.show()

    def do(self, event, t=None):
        """Let something happen at `t`, or now."""
        self.now = self.now if t is None else max(t, self.now)
        self.effects += self.session.handle(event, self.now)

    def show(self):
        """Put what is asked on the screen."""
        self.now += 100
        self.do(OnScreen(self.session.view.showing))

    def press(self, t, key=60):
        """Press a key at a time."""
        self.do(KeyPressed(key), t)

    def pass_time(self, until=None):
        """Let fall due what does, up to a time, or until nothing more is to come."""
        while (due := self.session.due) is not None and (until is None or due <= until):
            self.do(TimePassed(), due)

    def sounded(self):
        """Give what has sounded: times and keys."""
        return [(e.t, e.key) for e in self.effects if isinstance(e, ToneSounded)]

    def heard(self, item: Item):
        """Give what was heard of an item last."""
        found = [e.finding for e in self.effects if isinstance(e, ItemHeard)]
        return next(each for each in reversed(found) if each.item == item)

    # What children do

    def keep_pulse(self, taps):
        """Let the program give its beats, and tap at times after the last of them."""
        self.do(SoundIt())
        self.pass_time(self.now + 700 + 7 * 650)
        last = self.sounded()[-1][0]
        for tap in taps:
            self.press(last + tap)
        self.pass_time()

    def echo(self, rhythm, playing):
        """Let the teacher play a rhythm, and the pupil another."""
        start = self.now + 500
        for at in rhythm:
            self.press(start + at, 48)
        self.pass_time()
        start = self.now + 800
        for at in playing:
            self.press(start + at, 72)
        self.pass_time()

    def move(self, ways):
        """Answer each two tones by a way: up (1), down (-1), the same (0), or as they went."""
        self.do(SoundIt())
        for number, way in enumerate(ways):
            self.pass_time()
            (_, low), (_, high) = self.sounded()[-2:]
            truly = (high > low) - (high < low)
            self.press(self.now + 900, 60)
            self.press(self.now + 700, 60 + (truly if way is None else way))
            if number < len(ways) - 1:
                self.pass_time(self.now)
        self.pass_time()
