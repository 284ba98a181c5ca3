"""A year of practice, week by week: what four pupils see of their eighteen notes.

    python -m tests.bench.year --kind half-life

Four sittings of at most five minutes a week. One pupil has school holidays, one stays away over the
summer, one is careless (right about 85 times in 100 however well she knows a note), one guesses
(right three times in ten). The minds of the first three are of one kind of simulated pupil. A cell
tells notes in pencil, in ink and faded at the week's end; "true" is what is truly secured, "false"
how much of the ink is not.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

from drills.cards.card import default_cards
from drills.learning.planner import Planner
from drills.learning.response import State
from drills.simulation.benchmark.practice import BORN, Practice
from drills.simulation.pupils import KINDS, SimulatedPupil, simulated_pupil
from drills.simulation.pupils.habits import CarelessMind, GuessingMind
from drills.simulation.pupils.hand import hand_of_age
from drills.simulation.pupils.pupil import Distraction

WEEKS, MINUTES = 52, 5.0
WEEKDAYS = (0, 1, 3, 5)
HOLIDAYS = frozenset({8, 16, 17, 25, 31, 32, 40})
"""Weeks without practice in a school year, by common practice; counted from 1."""
SUMMER = frozenset(range(27, 37))
CARELESS = 0.13
"""With the slips that are left to a careful mind, about 85 answers in 100 are right."""
GUESSED = 0.3
CARDS = default_cards()


@dataclass(frozen=True)
class Seen:
    """One pupil at a week's end: numbers of notes, minutes of practice, share of right answers."""

    states: Counter[State]
    true: int
    false: int
    minutes: float
    right: float | None

    def __str__(self) -> str:
        """Write as one cell of the table."""
        states = "/".join(str(self.states[s]) for s in (State.PENCIL, State.INK, State.FADED))
        right = "away" if self.right is None else f"{100 * self.right:.0f} %"
        return f"{states}, true {self.true}, false {self.false}, {self.minutes:.0f} min, {right}"


def pupils(kind: str, seed: int) -> dict[str, tuple[SimulatedPupil, Collection[int]]]:
    """Return the pupils by what they are called in the table, with the weeks they are away."""
    careful = [simulated_pupil(kind, CARDS, BORN, seed + number) for number in range(3)]
    random = Random(f"year/{seed}")
    careless = CarelessMind(careful[2].mind, random, CARELESS)
    guesser = GuessingMind(hand_of_age(8, random), random, GUESSED)
    return {
        "with holidays": (careful[0], HOLIDAYS),
        "away over the summer": (careful[1], SUMMER),
        "careless": (SimulatedPupil(careless, random, Distraction()), HOLIDAYS),
        "guesses": (SimulatedPupil(guesser, random, Distraction()), HOLIDAYS),
    }


def year_of(pupil: SimulatedPupil, away: Collection[int], seed: int) -> list[Seen]:
    """Return what a pupil sees at the end of every week."""
    planner = Planner(CARDS, seed=seed, minutes=MINUTES)
    practice = Practice(planner, pupil, CARDS)
    weeks = []
    for week in range(1, WEEKS + 1):
        monday = BORN + timedelta(weeks=week - 1)
        answered, seconds = len(practice.answers), practice.seconds
        if week not in away:
            for weekday in WEEKDAYS:
                practice.practise(monday + timedelta(days=weekday), MINUTES)
        answers = practice.answers[answered:]
        minutes = (practice.seconds - seconds) / 60
        weeks.append(_seen(planner, practice, monday + timedelta(days=6), minutes, answers))
    return weeks


def _seen(
    planner: Planner, practice: Practice, now: datetime, minutes: float, answers: Sequence[bool]
) -> Seen:
    claims = practice.claims(now, timedelta(0))
    assert claims is not None
    return Seen(
        Counter(planner.standing(card, now).state for card in CARDS),
        claims.true,
        claims.false,
        minutes,
        sum(answers) / len(answers) if answers else None,
    )


def main() -> None:
    """Print the table in Markdown."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kind", choices=list(KINDS), default="half-life")
    parser.add_argument("--seed", type=int, default=1000)
    options = parser.parse_args()
    years = {
        name: year_of(pupil, away, options.seed)
        for name, (pupil, away) in pupils(options.kind, options.seed).items()
    }
    print("pencil/ink/faded of 18 notes; the rest are new\n")
    print("| week | " + " | ".join(years) + " |")
    print("| --- " * (1 + len(years)) + "|")
    for week, seen in enumerate(zip(*years.values(), strict=True), start=1):
        print(f"| {week} | " + " | ".join(map(str, seen)) + " |")


if __name__ == "__main__":
    main()
