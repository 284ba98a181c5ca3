"""The last page of a warm-up, for pupil and teacher: what came of it, and the week's practice."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from drills.cards.card import Card
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.stave_card import empty_card, engraved_staves, long_stave_card
from drills.engrave.words import broken
from drills.learning.response import State
from drills.learning.warm_up import Outcome
from drills.window.pages.buttons import Button, ButtonScene
from drills.window.pages.long_stave import FIRST_X, notes_between
from landmarks.names import Naming
from landmarks.pitch import MIDDLE_C
from landmarks.stave import BASS, TREBLE
from landmarks.translation import _, gettext_noop, ngettext

MOST_LINES = 3
"""Of the week's notes, before they are written smaller."""
SET_PLAN, DONE = "set plan", "done"
_BECAME = {
    State.INK: gettext_noop("now in ink"),
    State.FADED: gettext_noop("faded, to be found again"),
    State.PENCIL: gettext_noop("met, now in pencil"),
}


class WarmUpOutcome(ButtonScene):
    """What was found at once and what to look at again; one action sets the home plan."""

    def __init__(
        self,
        nickname: str,
        outcomes: Sequence[Outcome],
        week: Sequence[Card],
        naming: Naming,
        set_plan: Callable[[], str],
    ) -> None:
        """Prepare the page; `set_plan` makes `week` the home plan and gives its file's name."""
        super().__init__(SET_PLAN)
        self._nickname = nickname
        self._outcomes = outcomes
        self._week = week
        self._naming = naming
        self._set_plan = set_plan
        self._plan_file: str | None = None

    def buttons(self, width: int, height: int) -> list[Button]:
        """Return the button that sets the plan, until it is set, and the one that leaves."""
        margin, tall = height // 40, round(height * 0.09)
        top = height - margin - tall - margin // 2
        done = Box(round(width * 0.72), top, round(width * 0.28) - 2 * margin, tall)
        leave = Button(DONE, _("done"), done, size=0.4)
        if self._plan_file is not None:
            return [leave]
        box = Box(2 * margin, top, done.x - 4 * margin, tall)
        return [Button(SET_PLAN, _("practise these at home"), box, size=0.4), leave]

    def page(self, width: int, height: int) -> list[Layer]:
        """Return the notes of the warm-up in two groups, and the names of the week's notes."""
        middle = width / 2
        page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
        size, room = height * 0.032, 0.95 * width
        page.append(
            text(self._headline(), middle, height * 0.075, height * 0.058, palette.INK, room)
        )
        changes = broken(self._changes(), "; ", size, room)
        for row, line in enumerate(changes):
            y = height * (0.115 + 0.045 * row / max(1, len(changes) - 1))
            page.append(
                text(line, middle, y, size * min(1, 1.6 / len(changes)), palette.PENCIL, room)
            )
        page += self._staves(width, height)
        y = height * 0.695
        page.append(text(_("this week"), middle, y, height * 0.042, palette.INK))
        names = [self._name(card) for card in self._week]
        lines = broken(names, " · ", size, 0.8 * width)
        if len(lines) > MOST_LINES:
            size *= MOST_LINES / len(lines)
            lines = broken(names, " · ", size, room)
        for line in lines:
            y += height * 0.046 * min(1, MOST_LINES / len(lines))
            page.append(text(line, middle, y, size, palette.INK, room))
        if self._plan_file is not None:
            told = _("set: {file}").format(file=self._plan_file)
            page.append(text(told, width * 0.36, height * 0.93, size, palette.INK, 0.6 * width))
        return page

    def act(self, action: str) -> None:
        """Set the plan, or leave."""
        if action == DONE:
            self.leave()
        elif self._plan_file is None:
            self._plan_file = self._set_plan()
            self.focus = DONE

    def _headline(self) -> str:
        found = sum(outcome.at_once for outcome in self._outcomes)
        return ngettext(
            "{name}: {count} note found at once", "{name}: {count} notes found at once", found,
            name=self._nickname,
        )  # fmt: skip

    def _changes(self) -> list[str]:
        changed = [outcome for outcome in self._outcomes if outcome.changed]
        told = []
        for state, words in _BECAME.items():
            names = [self._name(o.card) for o in changed if o.after.state is state]
            if names:
                told.append(f"{_(words)}: {', '.join(names)}")
        return told or [_("every note looks as it did before")]

    def _name(self, card: Card) -> str:
        """Name a note; middle C, which both staves have, with its clef."""
        name = card.named(self._naming)
        return f"{name} ({_(card.clef.name)})" if card.target == MIDDLE_C else name

    def _staves(self, width: int, height: int) -> Iterator[Layer]:
        margin = height // 40
        box = Box(margin, round(height * 0.165), width - 2 * margin, round(height * 0.46))
        card = long_stave_card(Box(box.x, box.y + 2 * margin, box.width, box.height - 2 * margin), (
            TREBLE, BASS,
        ))  # fmt: skip
        yield from empty_card(box)
        yield from engraved_staves(card)
        groups = [
            (words, [o for o in self._outcomes if o.at_once is at_once])
            for words, at_once in ((_("at once"), True), (_("look again"), False))
        ]
        left, right = FIRST_X, card.length - 1.5
        middle = self._parting(groups[0][1], groups[1][1], left, right)
        for (words, outcomes), start, end in zip(
            groups, (left, middle + 1.5), (middle - 1.5, right), strict=True
        ):
            if outcomes:
                centre = card.x((start + end) / 2)
                baseline = box.y + 1.9 * margin
                yield text(words, centre, baseline, 1.2 * margin, palette.PENCIL)
                states = ((outcome.card, outcome.after.state) for outcome in outcomes)
                yield from notes_between(card, states, start, end)

    @staticmethod
    def _parting(
        found: Sequence[Outcome], missed: Sequence[Outcome], left: float, right: float
    ) -> float:
        """Return where along the staves the two groups part, by how many notes each has."""
        share = len(found) / max(1, len(found) + len(missed))
        return left + (right - left) * min(0.75, max(0.25, share))
