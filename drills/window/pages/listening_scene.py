"""The scene of listening: the teacher's buttons around what the pupil plays and hears."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from drills.app.session_clock import SessionClock
from drills.engrave.layer import Box, Layer
from drills.learning.prior_knowledge.finding import Finding, Item
from drills.sessions import events
from drills.sessions.effects import Effect
from drills.sessions.listening.effects import ItemHeard, ToneSounded
from drills.sessions.listening.listening import Listening
from drills.sessions.listening.parts import BEAT_KEY
from drills.sessions.listening.view import ListeningView, Stage
from drills.sessions.view import Phase
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.listening_page import listening_layers
from landmarks.translation import _, gettext_noop

SOUND, AGAIN, NEXT = "sound", "again", "next"
YES, NOT_YET = "yes", "not-yet"
DONE = "done"
_WORDS = {
    SOUND: gettext_noop("soft tone"),
    AGAIN: gettext_noop("once more"),
    NEXT: gettext_noop("go on"),
    YES: gettext_noop("set: yes"),
    NOT_YET: gettext_noop("set: not yet"),
    DONE: gettext_noop("done"),
}


class Sounds(Protocol):
    """What the scene needs of a loudspeaker."""

    def prepare(self, key: int) -> None:
        """Make a tone ready."""

    def play(self, key: int) -> None:
        """Sound a key."""


class Evidence(Protocol):
    """What becomes of what is heard."""

    def listened(self, finding: Finding) -> None:
        """Keep what was heard, dated; it changes nothing by itself."""

    def tick(self, item: Item, answer: str) -> None:
        """Set the teacher's answer by what was heard last."""


class ListeningScene(ButtonScene):
    """Passes events to a session of listening and carries out what it asks for."""

    takes_letters = False

    def __init__(
        self,
        pupil: str,
        listening: Listening,
        clock: SessionClock,
        carry_out: Callable[[Effect], None],
        sounds: Sounds,
        evidence: Evidence,
    ) -> None:
        """Prepare a session; `carry_out` writes what is kept of it."""
        super().__init__(SOUND)
        self._pupil = pupil
        self._listening = listening
        self._clock = clock
        self._carry_out = carry_out
        self._sounds = sounds
        self._evidence = evidence
        self._on_screen = 0
        self._ticked = ""

    @property
    def view(self) -> ListeningView:
        """What the session shows now."""
        return self._listening.view

    @property
    def due_ns(self) -> int | None:  # type: ignore[override]
        """When something sounds or ends, if nothing else comes before."""
        due = self._listening.due
        return None if due is None else self._clock.started_ns + round(due * 1e6)

    def take(self, event: events.Event, at_ns: int) -> None:
        """Hand an event to the session and carry out what comes of it."""
        before = self.view.item, self.view.stage
        for effect in self._listening.handle(event, (at_ns - self._clock.started_ns) / 1e6):
            if isinstance(effect, ToneSounded):
                self._sounds.play(effect.key)
            self._carry_out(effect)
            if isinstance(effect, ItemHeard):
                self._evidence.listened(effect.finding)
        self.over = self.over or self.view.phase is Phase.FINISHED
        if (self.view.item, self.view.stage) != before:
            self._ticked = ""
            # Enter never sets an answer that nobody moved to.
            heard = self.view.stage is Stage.HEARD
            self.focus = NEXT if heard else self._actions()[0]

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return what the teacher may do now, side by side."""
        actions = self._actions()
        tall, gap = round(height * 0.1), height // 40
        across = min(round(width * 0.28), round(width * 0.94) // len(actions) - gap)
        left = (width - len(actions) * (across + gap) + gap) // 2
        return [
            Button(
                action, _(_WORDS[action]),
                Box(left + place * (across + gap), round(height * 0.85), across, tall),
                action == self._ticked, 0.34,
            )
            for place, action in enumerate(actions)
        ]  # fmt: skip

    def page(self, width: int, height: int) -> list[Layer]:
        """Return what is to be done, or what was heard."""
        return listening_layers(self.view, self._pupil, width, height)

    def drawn(self, at_ns: int) -> bool:
        """Tell the session when an item has come on the screen."""
        if self.view.showing == self._on_screen:
            return False
        self._on_screen = self.view.showing
        self.take(events.OnScreen(self._on_screen), at_ns)
        return True

    def act(self, action: str) -> None:
        """Sound, repeat, go on, set an answer, or leave."""
        match action:
            case "sound":
                self._sounds.prepare(BEAT_KEY)
                self._happen(events.SoundIt())
            case "again":
                self._happen(events.AskAgain())
            case "next":
                self._happen(events.Skip())
            case "done":
                self.leave()
            case answer:
                self._ticked = answer
                self._evidence.tick(self.view.item, answer)

    def leave(self) -> None:
        """End the session."""
        self._happen(events.Stop())

    def _actions(self) -> tuple[str, ...]:
        if self.view.stage is Stage.HEARD:
            return (YES, NOT_YET, AGAIN, NEXT, DONE)
        if self.view.item is Item.ECHO:
            return (NEXT, AGAIN, DONE)
        return (SOUND, AGAIN, NEXT, DONE)

    def _happen(self, event: events.Event) -> None:
        self.take(event, self._clock.now_ns())
