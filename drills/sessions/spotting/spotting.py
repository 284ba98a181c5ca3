"""A spotting session as a pure state machine: (event, time) in, what is to be kept out.

A line of music and a question stand on the screen: find every treble G. A note is found by
touching it, or by playing its key, which marks the next one not yet found, from left to right.
A piano that is not known is asked for middle C first, in the line's place. Times are milliseconds
since the session's start.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from drills.sessions.events import (
    Begin,
    Event,
    Hint,
    KeyPressed,
    KeyReleased,
    NoteTouched,
    OnScreen,
    PianoFound,
    PianoLost,
    ReadLate,
    StoodStill,
    Stop,
)
from drills.sessions.key_group import Press, parted
from drills.sessions.piano_state import MIDDLE_C_CARD, ConnectedPiano
from drills.sessions.practice import RIGHT_AFTER_HELP_MS, RIGHT_MS, SETTLE_MS
from drills.sessions.record_lines import key_line, machine_line, milliseconds, shown_line
from drills.sessions.records import Ended, Record
from drills.sessions.spotting.pages import Page
from drills.sessions.spotting.question import NoteQuestion, Question, ValueQuestion, wanted_in
from drills.sessions.spotting.record_lines import asked_line, music_line, note_line, value_line
from drills.sessions.spotting.view import SpottingView
from drills.sessions.view import Phase, RememberPiano
from landmarks.answer import Answer, Verdict, judge
from landmarks.line import Line, LineNote

MISSES_BEFORE_POINTING = 3
"""After so many wrong notes in a row the next right one is pointed at."""

Kept = Record | RememberPiano
"""What a session gives to be kept: the lines of its file, and how its piano is shifted."""


@dataclass(frozen=True)
class _Due:
    t: float
    what: Literal["settle", "go on"]


class Spotting:
    """One spotting session: feed it events in the order they come, keep the records it gives."""

    def __init__(self, pages: Iterator[Page], minutes: float) -> None:
        """Prepare a session that ends with the first question that is done after `minutes`."""
        self.view = SpottingView()
        self._pages = pages
        self._end = minutes * 60_000
        self._questions: list[Question] = []
        self._asked_at: float | None = None
        self._attempt = 1
        self._misses = 0
        self._logged_line: Line | None = None
        self._touch: list[Press] = []
        self._due: _Due | None = None
        self._piano = ConnectedPiano()

    @property
    def due(self) -> float | None:
        """When (milliseconds) something happens of itself, if nothing else comes before."""
        return None if self._due is None else self._due.t

    def handle(self, event: Event, t: float) -> list[Kept]:
        """Take in what happened at `t` (milliseconds); give what is to be kept, in order."""
        kept = list(self._fall_due(t))
        if self.view.phase is not Phase.FINISHED:
            kept += self._respond(event, t)
        return kept

    def _fall_due(self, t: float) -> Iterator[Kept]:
        while self._due is not None and self._due.t <= t:
            due, self._due = self._due, None
            if due.what == "settle":
                yield from self._settle()
            else:
                yield from self._next_question(due.t)

    def _respond(self, event: Event, t: float) -> Iterator[Kept]:
        match event:
            case Begin():
                yield from self._next_question(t)
            case OnScreen(showing):
                yield from self._on_screen(showing, t)
            case NoteTouched(number):
                yield from self._settle()
                yield from self._note_touched(number, t)
            case KeyPressed() | KeyReleased():
                yield from self._key(event, t)
            case Hint():
                self._point()
            case PianoFound():
                yield from self._piano_found(event, t)
            case PianoLost(port) if self._piano.port == port:
                yield from self._settle()
                yield self._piano.line(t, "lost")
                self._piano.disconnect()
                if self.view.tuning:
                    self._show_anew()
            case StoodStill(ms):
                yield from self._settle()
                yield machine_line("stood still", ms, t)
            case ReadLate(ms):
                yield machine_line("read late", ms, t)
            case Stop(why):
                yield from self._settle()
                yield from self._finish(why, t)

    # Questions

    def _next_question(self, t: float) -> Iterator[Kept]:
        line = self.view.line
        if self.view.tuning:
            self._show_anew()
            return
        if t >= self._end:
            yield from self._finish("done", t)
            return
        if not self._questions:
            page = next(self._pages, None)
            if page is None:
                yield from self._finish("done", t)
                return
            line, self._questions = page.line, list(page.questions)
        assert line is not None
        question = self._questions.pop(0)
        self._asked_at, self._touch, self._misses = None, [], 0
        self.view = SpottingView(
            showing=self.view.showing + 1, line=line, question=question,
            wanted=wanted_in(line, question), tally=self.view.tally,
        )  # fmt: skip
        if self._piano.is_untuned:
            self._ask_for_middle_c()

    def _on_screen(self, showing: int, t: float) -> Iterator[Record]:
        line = self.view.line
        if line is None or showing != self.view.showing or self._asked_at is not None:
            return
        if self.view.tuning:
            self._asked_at, self._attempt = t, 1
            yield shown_line(MIDDLE_C_CARD, str(MIDDLE_C_CARD), t)
            return
        if line is not self._logged_line:
            self._logged_line = line
            yield music_line(line, t)
        yield self._ask(t)

    def _ask(self, t: float) -> Record:
        """Begin to wait for one of the notes: from the question on, and anew from each find on."""
        self._asked_at, self._attempt = t, 1
        return asked_line(self._question(), t)

    def _finish(self, why: str, t: float) -> Iterator[Record]:
        self._due = None
        self.view = replace(self.view, phase=Phase.FINISHED, tuning=False)
        yield Ended(t=milliseconds(t), why=why)

    # Notes

    def _note_touched(self, number: int, t: float) -> Iterator[Kept]:
        line, asked_at = self.view.line, self._asked_at
        asked = self.view.phase is Phase.ASKED and not self.view.tuning
        if line is None or asked_at is None or not asked or t < asked_at:
            return
        note, question = line.notes[number], self._question()
        right = question.fits(note)
        if number in self.view.found:
            return
        if isinstance(question, ValueQuestion):
            yield value_line(question, number, note, t, asked_at, self._attempt)
            answer = None
        else:
            answer = _read_as(question, note)
            press = Press(note.pitch.midi, t)
            yield self._answered(question, press, answer.verdict, "touched", number)
        if right:
            yield from self._found(number, t)
        else:
            self._wrong(number, answer)

    def _found(self, number: int, t: float) -> Iterator[Kept]:
        line = self.view.line
        assert line is not None
        here = {n for n in self.view.wanted if line.notes[n].coincides(line.notes[number])}
        self._misses = 0
        self.view = self.view.with_found(here)
        if self.view.next_wanted is not None:
            yield self._ask(t)
            return
        self.view = replace(self.view, phase=Phase.RIGHT)
        self._due = _Due(t + RIGHT_AFTER_HELP_MS, "go on")

    def _wrong(self, number: int | None, answer: Answer | None) -> None:
        self._attempt += 1
        self._misses += 1
        self.view = replace(self.view, touched=number, answer=answer)
        if self._misses >= MISSES_BEFORE_POINTING:
            self._point()

    def _point(self) -> None:
        if self.view.phase is Phase.ASKED and not self.view.tuning:
            self.view = replace(self.view, pointed=self.view.next_wanted)

    def _answered(
        self, question: NoteQuestion, press: Press, verdict: Verdict, how: str, number: int | None
    ) -> Record:
        assert self._asked_at is not None
        pointed = self.view.pointed is not None
        why_not = verdict if verdict in (Verdict.BRUSHED, Verdict.CLUSTER) else how
        told = "pointed at" if pointed and why_not == how else str(why_not)
        return note_line(question.card, press, self._asked_at, self._attempt, verdict, told, number)

    # Keys

    def _key(self, event: KeyPressed | KeyReleased, t: float) -> Iterator[Kept]:
        yield key_line(event, t)
        key = self._piano.meant(event.key)
        by_key = self.view.tuning or isinstance(self.view.question, NoteQuestion)
        asked = self.view.phase is Phase.ASKED and by_key
        again = any(press.key == key for press in self._touch)
        pressed = isinstance(event, KeyPressed)
        if not pressed or key is None or again or not asked or self._asked_at is None:
            return
        if t >= self._asked_at:
            self._touch.append(Press(key, t))
            self._due = self._due or _Due(t + SETTLE_MS, "settle")

    def _settle(self) -> Iterator[Kept]:
        """Judge the keys that went down together, if there are any."""
        touch, self._touch = self._touch, []
        question = self.view.question
        if touch and self.view.tuning:
            self._due = None
            yield from self._tune(touch)
            return
        if not touch or not isinstance(question, NoteQuestion):
            return
        self._due = None
        card = question.card
        brushed, kept = parted(touch, card.target)
        for press in brushed:
            yield self._answered(question, press, Verdict.BRUSHED, "named", None)
        press = kept[0]
        answer = judge(card.target, card.clef, press.key)
        if len(kept) > 1:
            answer = replace(answer, verdict=Verdict.CLUSTER)
        right = answer.verdict is Verdict.EXACT
        number = self.view.next_wanted if right else None
        yield self._answered(question, press, answer.verdict, "named", number)
        if number is not None:
            yield from self._found(number, press.t)
        else:
            self._wrong(None, answer)

    # The piano

    def _piano_found(self, event: PianoFound, t: float) -> Iterator[Kept]:
        yield from self._settle()
        self._piano.connect(event)
        yield self._piano.line(t, "found")
        if self._piano.is_untuned and self.view.phase is Phase.ASKED and self.view.line:
            self._ask_for_middle_c()
        elif self.view.tuning:
            self._show_anew()

    def _ask_for_middle_c(self) -> None:
        """Ask for middle C in the place of the line, until the piano's shift is known."""
        self._piano.ask()
        self._show_anew(tuning=True)

    def _show_anew(self, tuning: bool = False) -> None:
        """Show the question as if it came anew, what was found of it still found."""
        self._asked_at, self._touch, self._misses = None, [], 0
        self.view = replace(
            self.view, showing=self.view.showing + 1, touched=None, answer=None, pointed=None,
            phase=Phase.ASKED, tuning=tuning, tuning_again=False,
        )  # fmt: skip

    def _tune(self, touch: list[Press]) -> Iterator[Kept]:
        assert self._asked_at is not None
        tuning, port = self._piano.tune(touch), self._piano.port
        press = tuning.press
        yield note_line(
            MIDDLE_C_CARD, press, self._asked_at, self._attempt, tuning.verdict, "tuning"
        )
        if tuning.shift is None or port is None:
            self._attempt += 1
            self.view = replace(self.view, tuning_again=True)
            return
        yield self._piano.line(press.t, "tuned")
        yield RememberPiano(port, tuning.shift)
        self.view = replace(self.view, phase=Phase.RIGHT)
        self._due = _Due(press.t + RIGHT_MS, "go on")

    # Small things

    def _question(self) -> Question:
        assert self.view.question is not None
        return self.view.question


def _read_as(question: NoteQuestion, note: LineNote) -> Answer:
    """Say what a touched note is against the note asked for, spelled as it stands in the line."""
    target = question.card.target
    steps = note.pitch.diatonic - target.diatonic
    verdict = judge(target, question.card.clef, note.pitch.midi).verdict
    if verdict is Verdict.EXACT and steps:
        # The same key, written on another line or space.
        verdict = Verdict.STEP
    return Answer(verdict, note.pitch, steps)
