"""A spotting session: notes and note values found in a line of music.

A line of music and a question stand on the screen: find every treble G. A note is found by
touching it, or by playing its key, which marks the next one not yet found, from left to right.
A piano that is not known is asked for middle C first, in the line's place.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drills.sessions.effects import Answered, Effect, LineShown
from drills.sessions.events import Event, Hint, NoteTouched
from drills.sessions.key_group import Press, split_brushed
from drills.sessions.line_session import LineSession
from drills.sessions.spotting.effects import ValueAnswered, question_asked
from drills.sessions.spotting.pages import Page
from drills.sessions.spotting.question import NoteQuestion, Question, ValueQuestion, wanted_in
from drills.sessions.spotting.view import SpottingView
from drills.sessions.timed_session import RIGHT_AFTER_HELP_MS, Due
from drills.sessions.view import Phase
from landmarks.answer import Answer, Verdict, judge
from landmarks.line import Line, LineNote

MISSES_BEFORE_POINTING = 3
"""After so many wrong notes in a row the next right one is pointed at."""


class Spotting(LineSession[SpottingView]):
    """One spotting session: feed it events in the order they come, carry out its effects."""

    def __init__(self, pages: Iterator[Page], minutes: float) -> None:
        """Prepare a session that ends with the first question that is done after `minutes`."""
        super().__init__(SpottingView())
        self._pages = pages
        self._end = minutes * 60_000
        self._questions: list[Question] = []
        self._misses = 0
        self._told_line: Line | None = None

    def _respond_further(self, event: Event, t: float) -> Iterator[Effect]:
        match event:
            case NoteTouched(number):
                yield from self._settle(t)
                yield from self._note_touched(number, t)
            case Hint():
                yield from self._point()

    def _takes_keys(self) -> bool:
        by_key = self.view.tuning or isinstance(self.view.question, NoteQuestion)
        return self.view.phase is Phase.ASKED and by_key

    # Questions

    def _next(self, t: float) -> Iterator[Effect]:
        line = self.view.line
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
        self._misses = 0
        yield from self._show_next(
            SpottingView(
                line=line, question=question, wanted=wanted_in(line, question),
                tally=self.view.tally,
            )
        )  # fmt: skip

    def _begin_line(self, line: Line, t: float) -> Iterator[Effect]:
        if line is not self._told_line:
            self._told_line = line
            yield LineShown(t, line)
        yield self._ask(t)

    def _ask(self, t: float) -> Effect:
        """Begin to wait for one of the notes: from the question on, and anew from each find on."""
        self._asked_at, self._attempt = t, 1
        return question_asked(self._question(), t)

    def _as_anew(self) -> SpottingView:
        self._misses = 0
        return replace(self.view, touched=None, answer=None, pointed=None)

    # Notes

    def _note_touched(self, number: int, t: float) -> Iterator[Effect]:
        line, asked_at = self.view.line, self._asked_at
        asked = self.view.phase is Phase.ASKED and not self.view.tuning
        if line is None or asked_at is None or not asked or t < asked_at:
            return
        note, question = line.notes[number], self._question()
        if number in self.view.found:
            return
        if isinstance(question, ValueQuestion):
            yield ValueAnswered(t, question, number, note, t - asked_at, self._attempt)
            answer = None
        else:
            answer = _read_as(question, note)
            press = Press(note.pitch.midi, t)
            yield self._answered(question, press, answer.verdict, "touched", number)
        if question.fits(note):
            yield from self._found(number, t)
        else:
            yield from self._wrong(number, answer)

    def _found(self, number: int, t: float) -> Iterator[Effect]:
        line = self.view.line
        assert line is not None
        here = {n for n in self.view.wanted if line.notes[n].coincides(line.notes[number])}
        self._misses = 0
        found = self.view.with_found(here)
        if found.next_wanted is not None:
            yield self._show(found)
            yield self._ask(t)
            return
        self._due = Due(t + RIGHT_AFTER_HELP_MS, self._go_on)
        yield self._show(replace(found, phase=Phase.RIGHT))

    def _wrong(self, number: int | None, answer: Answer | None) -> Iterator[Effect]:
        self._attempt += 1
        self._misses += 1
        yield self._show(replace(self.view, touched=number, answer=answer))
        if self._misses >= MISSES_BEFORE_POINTING:
            yield from self._point()

    def _point(self) -> Iterator[Effect]:
        if self.view.phase is Phase.ASKED and not self.view.tuning:
            yield self._show(replace(self.view, pointed=self.view.next_wanted))

    def _answered(
        self, question: NoteQuestion, press: Press, verdict: Verdict, how: str, number: int | None
    ) -> Effect:
        """Tell how a key, or the note of that number in the line, was judged; it never counts."""
        pointed = self.view.pointed is not None
        why_not = verdict if verdict in (Verdict.BRUSHED, Verdict.CLUSTER) else how
        told = "pointed at" if pointed and why_not == how else str(why_not)
        return Answered(
            press.t, question.card, verdict, press.key, press.t - self._shown(), self._attempt,
            self._hints(), told, note=number,
        )  # fmt: skip

    # Keys

    def _judge(self, group: list[Press]) -> Iterator[Effect]:
        question = self._question()
        assert isinstance(question, NoteQuestion)
        card = question.card
        brushed, kept = split_brushed(group, card.target)
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
            yield from self._wrong(None, answer)

    # Small things

    def _question(self) -> Question:
        assert self.view.question is not None
        return self.view.question


def _read_as(question: NoteQuestion, note: LineNote) -> Answer:
    """Return what a touched note is against the note asked for, as it is spelled in the line."""
    target = question.card.target
    steps = note.pitch.diatonic - target.diatonic
    verdict = judge(target, question.card.clef, note.pitch.midi).verdict
    if verdict is Verdict.EXACT and steps:
        # The same key, written on another line or space.
        verdict = Verdict.STEP
    return Answer(verdict, note.pitch, steps)
