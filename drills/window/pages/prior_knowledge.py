"""The teacher's page of what a pupil brings: one row a question, and where it makes her begin."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, beginning, rectangle, text
from drills.learning.ladder.climb import Climber
from drills.learning.prior_knowledge.finding_text import band_words, finding_sentences
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.question import questions
from drills.text.formatting import day_of
from drills.window.pages.buttons import Button, ButtonScene
from landmarks.translation import _, gettext_noop

DOWN, UP, DONE = gettext_noop("rung down"), gettext_noop("rung up"), gettext_noop("done")
LISTEN = gettext_noop("two minutes of listening")
MOST_IN_ROW = 5
"""Answers beside each other; a question with more takes two rows."""


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
        first = next(iter(questions()))
        super().__init__(f"{first}/{beginnings.answer(first)}")
        self._beginnings = beginnings
        self._climber_of = climber_of
        self._climber = climber_of(beginnings)
        self._keep = keep
        self._now = now
        self._listens = listens
        self.to_listen = False

    def buttons(self, width: int, height: int) -> list[Button]:
        """Give the answers, row by row, and the buttons that move on the ladder."""
        buttons = []
        for (question, answers), box in _rows(width, height):
            asked = questions()[question]
            for place, answer in enumerate(answers):
                cell = _cell(box, place, len(answers))
                words = asked.words(answer)
                chosen = self._beginnings.answer(question) == answer
                size = min(0.46, 1.75 * cell.width / cell.height / len(words))
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
        """Give the questions, what the answer in focus changes, and where she begins and why."""
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        title = _("what {name} brings").format(name=self._beginnings.pupil)
        page.append(text(title, width / 2, height * 0.075, height * 0.052, palette.INK))
        left, asked = height // 40, ""
        for (question, _answers), box in _rows(width, height):
            if question != asked:
                words = _(questions()[question].asks)
                size, room = height * 0.03, box.x - 2 * left
                baseline = box.y + box.height * 0.65
                page.append(beginning(words, left, baseline, size, palette.INK, room))
            asked = question
        middle, within = width / 2, 0.96 * width
        place = self._climber.stands.title
        page.append(
            text(
                _("now: {rung}").format(rung=place),
                middle,
                height * 0.817,
                height * 0.042,
                palette.INK,
                within,
            )
        )
        lines = (str(self._climber.why), self._changes(), self._evidence())
        for row, words in enumerate(lines):
            baseline = height * (0.855 + 0.03 * row)
            page.append(text(words, middle, baseline, height * 0.026, palette.PENCIL, within))
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
        """Say what was heard that tells of the question in focus, and when."""
        heard = self._beginnings.latest_heard(self.focus.partition("/")[0])
        if heard is None:
            return ""
        sentence = next(finding_sentences(heard.finding))
        return _("heard on {day}: {words} {sentence}").format(
            day=day_of(heard.at), words=f"{band_words(heard.finding)}.", sentence=sentence
        )


def _rows(width: int, height: int) -> list[tuple[tuple[str, tuple[str, ...]], Box]]:
    """Give the questions with the answers of each row, and the box of its buttons."""
    rows = []
    for name, question in questions().items():
        options = question.options
        half = -(-len(options) // 2) if len(options) > MOST_IN_ROW else len(options)
        rows += [(name, options[at : at + half]) for at in range(0, len(options), half)]
    top, tall = height * 0.105, height * 0.665 / len(rows)
    left = round(width * 0.44)
    across = width - left - height // 40
    return [
        (row, Box(left, round(top + tall * place), across, round(tall * 0.84)))
        for place, row in enumerate(rows)
    ]


def _cell(box: Box, place: int, count: int) -> Box:
    gap = box.height // 6
    each = (box.width - gap * (count - 1)) / count
    return Box(round(box.x + place * (each + gap)), box.y, round(each), box.height)


def _foot(place: int, count: int, width: int, height: int) -> Box:
    tall, across = round(height * 0.058), round(width * 0.22)
    left = (width - count * across) // 2 + place * across
    return Box(left + across // 20, round(height * 0.935), across - across // 10, tall)
