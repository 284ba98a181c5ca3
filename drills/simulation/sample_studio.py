"""An invented studio: pupils with planted troubles, whose weeks of practice fill session files.

Every session is played through the engine that drills a real pupil and is written by the
program's own session writer; only the pupils, their nicknames and their dates are invented.
"""

from __future__ import annotations

import random
import uuid
from collections.abc import Callable, Iterator
from datetime import date, datetime, time, timedelta, timezone
from importlib.metadata import version

from drills.cards.card import Card, cards_of, key_cards
from drills.learning.planner import Planner
from drills.sessions.practice import Drill
from drills.sessions.records import Header
from drills.simulation.demonstration import play
from drills.simulation.pupils.invented import InventedPlayer, InventedPupil
from drills.simulation.pupils.misreadings import Misreading
from drills.simulation.pupils.player import Player
from drills.storage.effect_records import record_of
from drills.storage.session_file import SessionWriter
from drills.storage.studio import Pupil, Studio
from landmarks.pitch import Pitch
from landmarks.sets import DEFAULT_SET, built_in_sets

WEEKS = 5
MINUTES = 2.2
SLOW_FOR_ALL = Pitch.parse("C3")
"""Bass C is slow for every pupil, so that the studio's own review has something to find."""
SLOWED = {SLOW_FOR_ALL: 2.6}
TIME_ZONE = timezone(timedelta(hours=1))

PUPILS = (
    InventedPupil(
        "Wren", "clef confusion", (0, 2, 5), key=0.85, reading=2.0, fluent=0.5,
        habit=Misreading.CLEF, habit_slips=0.13,
    ),
    InventedPupil(
        "Comet", "fast but careless", (0, 1, 3, 4), key=0.7, reading=1.2, fluent=0.35,
        slips=0.24, slips_left=0.22, haste=0.75,
    ),
    InventedPupil(
        "Juniper", "sure but slow", (1, 4, 6), key=0.95, reading=2.2, fluent=1.4,
        slips=0.04, slips_left=0.01, counted_step=0.33,
    ),
    InventedPupil(
        "Otter", "forgotten over a gap", (0, 1, 2, 4, 5), key=0.8, reading=2.8, fluent=0.4,
        slips=0.4, slips_left=0.02, away=(20, 4), forgotten=0.95,
    ),
    InventedPupil(
        "Pebble", "stuck on one note", (1, 2, 5), key=0.9, reading=1.7, fluent=0.4,
        habit=Misreading.STEP, habit_slips=0.6, habit_notes=("F3",),
    ),
    InventedPupil(
        "Marlow", "none", (0, 3, 5), key=0.75, reading=1.5, fluent=0.3,
    ),
)  # fmt: skip


def write_sample_studio(
    studio: Studio,
    last_day: date,
    seed: int = 0,
    pupils: tuple[InventedPupil, ...] = PUPILS,
    advance: Callable[[], None] = lambda: None,
) -> None:
    """Write the session files of invented pupils, whose last day of practice is `last_day`.

    The same seed and day give the same files. `advance` is called once a session. StudioError
    if the folder cannot be made.
    """
    for invented in pupils:
        generator = random.Random(f"{seed} {invented.nickname}")
        pupil = studio.pupil(invented.nickname)
        practised: dict[Card, float] = {}
        before: date | None = None
        for day in _days(invented, last_day, generator):
            if before is not None and (day - before).days > 7:
                for card in practised:
                    practised[card] *= 1 - invented.forgotten
            _write_session(pupil, invented, practised, day, generator)
            before = day
            advance()


def session_count(last_day: date, seed: int = 0) -> int:
    """Return how many sessions the sample studio has."""
    return sum(
        len(list(_days(pupil, last_day, random.Random(f"{seed} {pupil.nickname}"))))
        for pupil in PUPILS
    )


def _days(pupil: InventedPupil, last_day: date, generator: random.Random) -> Iterator[date]:
    """Return the days of practice: the pupil's weekdays, one in twelve of them left out."""
    leave_out = random.Random(generator.random())
    first_away, last_away = pupil.away
    for back in range(WEEKS * 7 - 1, -1, -1):
        day = last_day - timedelta(days=back)
        away = last_away <= back <= first_away and first_away > 0
        if day.weekday() in pupil.days and not away and leave_out.random() >= 0.08:
            yield day


def _write_session(
    pupil: Pupil,
    invented: InventedPupil,
    practised: dict[Card, float],
    day: date,
    generator: random.Random,
) -> None:
    landmarks = built_in_sets()[DEFAULT_SET]
    minutes = generator.randrange(15 * 60, 18 * 60)
    started = datetime.combine(day, time(minutes // 60, minutes % 60), TIME_ZONE)
    seed = generator.randrange(2**31)
    cards = (*cards_of(landmarks), *key_cards(landmarks))
    drill = Drill(Planner(cards, pupil.responses(), seed, minutes=MINUTES), started)
    player = InventedPlayer(invented, practised, SLOWED, generator)
    write_played(pupil, drill, player, started, seed, generator)


def write_played(
    pupil: Pupil,
    drill: Drill,
    player: Player,
    started: datetime,
    seed: int,
    generator: random.Random,
) -> None:
    """Play a session of the default landmark set to its end and write its file."""
    writer = SessionWriter(
        pupil.sessions_folder,
        Header(
            session=str(uuid.UUID(int=generator.getrandbits(128), version=4)),
            pupil=pupil.nickname, started=started, clock_ns=0,
            program=version("landmark-drills"), port="Invented piano", clock="simulated",
            set=DEFAULT_SET, seed=seed,
        ),
    )  # fmt: skip
    try:
        for effect in play(drill, player, lambda _: None):
            if (record := record_of(effect)) is not None:
                writer.append(record)
    finally:
        writer.close()
