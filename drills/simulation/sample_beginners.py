"""An invented studio of beginners, who climb the ladder from where what they bring lets them begin.

Their sessions are played through the engine that drills a real pupil, and tell every move on the
ladder with its reason.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from drills.learning.ladder.chooser import LadderChooser
from drills.learning.ladder.material import ladder_cards
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.sessions.practice import Drill
from drills.simulation.pupils.beginner import Beginner
from drills.simulation.sample_studio import TIME_ZONE, write_played
from drills.storage.prior_knowledge_file import write_observations
from drills.storage.studio import Studio
from landmarks.sets import DEFAULT_SET, built_in_sets

DAYS = 12
"""From the first day of practice to the last."""
MINUTES = 5.0
LEFT_OUT = 0.25
"""The share of days without practice."""


@dataclass(frozen=True)
class InventedBeginner:
    """What is set down of a beginner (question: answer), and what she can do (`Beginner`)."""

    nickname: str
    brings: Mapping[str, str]
    learns: float
    skills: Mapping[str, float]


BEGINNERS = (
    InventedBeginner(
        "Piper",
        {"reads-for": "recorder", "key-names": "yes", "black-keys": "yes", "pulse": "yes"},
        0.08,
        {"shapes": 0.95, "name": 0.97, "place": 0.97, "treble": 0.93, "bass": 0.1, "steps": 0.7},
    ),
    InventedBeginner(
        "Lark",
        {
            "higher-lower": "yes", "pulse": "yes", "clap-back": "yes", "follows-line": "yes",
            "note-names": "sol-fa", "black-keys": "not-yet", "key-names": "not-yet",
            "reads-for": "none",
        },
        0.06,
        {"shapes": 0.9, "name": 0.1, "place": 0.2, "treble": 0.1, "bass": 0.1, "steps": 0.5},
    ),
    InventedBeginner(
        "Moth",
        {"pulse": "not-yet", "higher-lower": "not-yet", "follows-line": "not-yet"},
        0.03,
        {"shapes": 0.5, "name": 0.05, "place": 0.15, "treble": 0.05, "bass": 0.05, "steps": 0.4},
    ),
)  # fmt: skip
"""They begin with bass landmarks, with shapes on the whole stave, and without a stave."""


def write_sample_beginners(
    studio: Studio,
    last_day: date,
    seed: int = 0,
    advance: Callable[[], None] = lambda: None,
) -> None:
    """Write what invented beginners bring, and their sessions up to `last_day`.

    The same seed and day give the same files. `advance` is called once a beginner. StudioError if
    the folder cannot be made.
    """
    for invented in BEGINNERS:
        _write_course(studio, invented, last_day, random.Random(f"{seed} {invented.nickname}"))
        advance()


def _write_course(
    studio: Studio, invented: InventedBeginner, last_day: date, generator: random.Random
) -> None:
    first_day = last_day - timedelta(days=DAYS - 1)
    lesson = datetime.combine(first_day - timedelta(days=1), time(15), TIME_ZONE)
    beginnings = Observations(pupil=invented.nickname)
    for question, answer in invented.brings.items():
        beginnings = beginnings.seen(question, answer, lesson)
    pupil = studio.pupil(invented.nickname)
    write_observations(beginnings, pupil)
    landmarks = built_in_sets()[DEFAULT_SET]
    cards, brings = ladder_cards(landmarks), prior_knowledge_of(beginnings)
    player = Beginner(str(generator.random()), invented.learns, **invented.skills)
    for day in range(DAYS):
        minutes, played = generator.randrange(15 * 60, 18 * 60), generator.random() >= LEFT_OUT
        if day and not played:
            continue
        started = datetime.combine(
            first_day + timedelta(days=day), time(minutes // 60, minutes % 60), TIME_ZONE
        )
        seed = generator.randrange(2**31)
        chooser = LadderChooser(cards, brings, tuple(pupil.responses()), (), seed, MINUTES)
        drill = Drill(chooser, started, climb=chooser)
        write_played(pupil, drill, player, started, seed, generator)
