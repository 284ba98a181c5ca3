"""The teacher's page of what a pupil brings, a part of practice at a time, and where she begins."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, beginning, rectangle, text
from drills.engrave.words import broken
from drills.learning.ladder.climb import Climber
from drills.learning.prior_knowledge.finding_text import band_words, finding_sentences
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.question import Part, questions
from drills.text.formatting import day_of
from drills.window.pages.buttons import Button, ButtonScene
from landmarks.translation import _, gettext_noop

DOWN, UP, DONE = gettext_noop("rung down"), gettext_noop("rung up"), gettext_noop("done")
LISTEN = gettext_noop("two minutes of listening")
PART = "part/"
"""Before the name of a part of practice in the action of its button."""
MOST_IN_ROW = 4
"""Answers beside each other; a question with more takes further rows."""
_ROWS = 6
"""Rows that fit on the page; no part needs more."""


class BeginningsPage(ButtonScene):
    """Every press is kept at once; the words below say what it changes and where she begins."""

    def __init__(
        self,
        beginnings: Observations,
        climber_of: Callable[[Observations], Climber],
        keep: Callable[[Observations], None],
        now: Callable[[], datetime],
        listens: bool = False,
    ) -> None:
        """Show `beginnings`; `climber_of` gives where they lead to, `keep` writes them.

        `listens` offers to listen at the piano; `to_listen` tells afterwards that it was wanted.
        """
        first, asked = next(iter(questions().items()))
        super().__init__(f"{first}/{beginnings.answer(first)}")
        self.part = asked.part
        self._beginnings = beginnings
        self._climber_of = climber_of
        self._climber = climber_of(beginnings)
        self._keep = keep
        self._now = now
        self._listens = listens
        self.to_listen = False

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the answers, row by row, and the buttons that move on the ladder."""
        buttons = [
            Button(PART + part, part.words, _tab(place, width, height), part is self.part, 0.44)
            for place, part in enumerate(Part)
        ]
        for (question, answers), box in _rows(self.part, width, height):
            asked = questions()[question]
            across = min(len(asked.options), MOST_IN_ROW)
            for place, answer in enumerate(answers):
                cell = _cell(box, place, across)
                words = asked.words(answer)
                chosen = self._beginnings.answer(question) == answer
                size = min(0.36, 1.75 * cell.width / cell.height / len(words))
                buttons.append(
                    Button(
                        f"{question}/{answer}", words, cell, chosen, size,
                        about=questions()[question].asks,
                    )
                )  # fmt: skip
        feet = (DOWN, UP, LISTEN, DONE) if self._listens else (DOWN, UP, DONE)
        for place, action in enumerate(feet):
            box = _foot(place, len(feet), width, height)
            buttons.append(Button(action, _(action), box, size=0.36))
        return buttons

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the questions, what the answer in focus changes, and where she begins and why."""
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        title = _("what {name} brings").format(name=self._beginnings.pupil)
        page.append(text(title, width / 2, height * 0.07, height * 0.048, palette.INK))
        left, asked = height // 40, ""
        for (question, _answers), box in _rows(self.part, width, height):
            if question != asked:
                words = _(questions()[question].asks)
                size, room = height * 0.032, box.x - 2 * left
                baseline = box.y + box.height * 0.62
                page.append(beginning(words, left, baseline, size, palette.INK, room))
            asked = question
        middle, within = width / 2, 0.96 * width
        place = self._climber.stands.title
        page.append(
            text(
                _("now: {rung}").format(rung=place),
                middle,
                height * 0.803,
                height * 0.042,
                palette.INK,
                within,
            )
        )
        size = height * 0.025
        evidence = broken(self._evidence().split(), " ", size, within)
        lines = (str(self._climber.why), self._changes(), *evidence)
        for row, words in enumerate(lines):
            baseline = height * (0.842 + 0.027 * row)
            page.append(text(words, middle, baseline, size, palette.PENCIL, within))
        return page

    def act(self, action: str) -> None:
        """Keep an answer, move on the ladder, or leave."""
        if action in (DONE, LISTEN):
            self.over, self.to_listen = True, action == LISTEN
            return
        if action in (DOWN, UP):
            rungs = self._climber.rungs
            place = rungs.index(self._climber.stands) + (1 if action == UP else -1)
            if 0 <= place < len(rungs):
                self._change(self._beginnings.decided(rungs[place].name, self._now()))
            return
        if action.startswith(PART):
            self.part = Part(action.removeprefix(PART))
            return
        question, _slash, answer = action.partition("/")
        if self._beginnings.answer(question) != answer:
            self._change(self._beginnings.seen(question, answer, self._now()))

    def _change(self, beginnings: Observations) -> None:
        self._beginnings = beginnings
        self._climber = self._climber_of(beginnings)
        self._keep(beginnings)

    def _changes(self) -> str:
        """Say what the answer in focus changes."""
        question, _slash, answer = self.focus.partition("/")
        if question not in questions():
            moves = question in (DOWN, UP)
            return _("The drill follows her answers from there.") if moves else ""
        choice = questions()[question].answers.get(answer)
        return _(choice.changes) if choice else _("Nothing is changed until it is seen.")

    def _evidence(self) -> str:
        """Say what was heard, or written by parents, that tells of the question in focus."""
        question = self.focus.partition("/")[0]
        heard = self._beginnings.latest_heard(question)
        if heard is None:
            seen = self._beginnings.answers().get(question)
            if seen is None or seen.by != "parents":
                return ""
            said = _("parents on {day}: {words}")
            words = seen.note or questions()[question].words(seen.answer)
            return said.format(day=day_of(seen.at), words=words)
        sentence = next(finding_sentences(heard.finding))
        return _("heard on {day}: {words} {sentence}").format(
            day=day_of(heard.at), words=f"{band_words(heard.finding)}.", sentence=sentence
        )


def _rows(part: Part, width: int, height: int) -> list[tuple[tuple[str, tuple[str, ...]], Box]]:
    """Return the questions of a part with the answers of each row, and the box of its buttons."""
    rows = []
    for name, question in questions().items():
        options = question.options
        if question.part is part:
            starts = range(0, len(options), MOST_IN_ROW)
            rows += [(name, options[at : at + MOST_IN_ROW]) for at in starts]
    top, tall = height * 0.19, height * 0.57 / _ROWS
    left = round(width * 0.42)
    across = width - left - height // 40
    return [
        (row, Box(left, round(top + tall * place), across, round(tall * 0.82)))
        for place, row in enumerate(rows)
    ]


def _tab(place: int, width: int, height: int) -> Box:
    across = round(width * 0.2)
    left = (width - len(Part) * across) // 2 + place * across
    return Box(left + across // 40, round(height * 0.105), across - across // 20, height // 16)


def _cell(box: Box, place: int, count: int) -> Box:
    gap = box.height // 6
    each = (box.width - gap * (count - 1)) / count
    return Box(round(box.x + place * (each + gap)), box.y, round(each), box.height)


def _foot(place: int, count: int, width: int, height: int) -> Box:
    tall, across = round(height * 0.058), round(width * 0.22)
    left = (width - count * across) // 2 + place * across
    return Box(left + across // 20, round(height * 0.935), across - across // 10, tall)
