"""An invented studio: pupils with planted troubles, whose weeks of practice fill session files.

Every session is played through the engine that drills a real pupil and is written by the
program's own session writer; only the pupils, their nicknames and their dates are invented.
"""

from __future__ import annotations

import random
import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, timezone
from importlib.metadata import version

from drills.cards.card import Card, Kind, cards_of, key_cards
from drills.learning.planner import Planner
from drills.sessions.practice import Drill
from drills.sessions.records import Header
from drills.sessions.view import View
from drills.simulation.demonstration import Player, Touch, play
from drills.storage.effect_records import record_of
from drills.storage.session_file import SessionWriter
from drills.storage.studio import Pupil, Studio
from landmarks.pitch import Pitch
from landmarks.sets import DEFAULT_SET, built_in_sets
from landmarks.stave import other_clef

WEEKS = 5
MINUTES = 2.2
SLOW_FOR_ALL = Pitch.parse("C3")
"""Bass C is slow for every pupil, so that the studio's own review has something to find."""
SLOW_FOR_ALL_FACTOR = 2.6
TIME_ZONE = timezone(timedelta(hours=1))

Slip = Callable[[Card, random.Random], int]
"""Gives the wrong key that is played instead of a card's."""


def next_place(card: Card, generator: random.Random) -> int:
    """Slip to the next line or space."""
    return card.target.stepped(generator.choice((-1, 1))).midi


def other_clefs_key(card: Card, _: random.Random) -> int:
    """Read the note in the other clef."""
    return other_clef(card.clef).pitch_at(card.clef.position(card.target)).midi


def other_direction(card: Card, generator: random.Random) -> int:
    """Step from the landmark the wrong way; at a landmark, slip to the next place."""
    return card.anchor.stepped(-card.steps).midi if card.steps else next_place(card, generator)


@dataclass(frozen=True)
class InventedPupil:
    """How an invented pupil plays; times are medians in seconds, the others probabilities.

    Reading gets quicker with practice from `reading` to `fluent` and slips rarer from `slips` to
    `slips_left`; `habit` is the trouble's own slip, which comes with `habit_slips` and stays.
    """

    nickname: str
    trouble: str
    days: tuple[int, ...]
    """The weekdays of practice, 0 is Monday."""
    key: float
    reading: float
    fluent: float
    slips: float = 0.12
    slips_left: float = 0.02
    habit: Slip = next_place
    habit_slips: float = 0.0
    habit_notes: tuple[str, ...] = ()
    """Where the habit shows; everywhere if empty."""
    haste: float = 1.0
    """How long a slip takes, as a share of a right answer's time."""
    counted_step: float = 0.0
    """Seconds for each line and space that is counted up from the bottom line."""
    away: tuple[int, int] = (0, 0)
    """From which day to which there is no practice, counted back from the last day."""
    forgotten: float = 0.0
    """The share of practice that is lost while away."""


PUPILS = (
    InventedPupil(
        "Wren", "clef confusion", (0, 2, 5), key=0.85, reading=2.0, fluent=0.5,
        habit=other_clefs_key, habit_slips=0.13,
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
        habit=next_place, habit_slips=0.6, habit_notes=("F3",),
    ),
    InventedPupil(
        "Marlow", "none", (0, 3, 5), key=0.75, reading=1.5, fluent=0.3,
    ),
)  # fmt: skip


class _Player:
    """Plays one session as an invented pupil, with what practice before it has left."""

    def __init__(
        self, pupil: InventedPupil, practised: dict[Card, float], generator: random.Random
    ) -> None:
        self._pupil = pupil
        self._practised = practised
        self._random = generator

    def touch(self, view: View, attempt: int) -> Touch:
        """Answer what is shown, for the first time (attempt 1) or after so many slips."""
        card = view.card
        assert card is not None
        if attempt > 1:
            return Touch(1.2 + self._seconds(card), (card.key,))
        seconds = self._seconds(card)
        self._practised[card] = self._practised.get(card, 0.0) + 1
        chance = self._random.random()
        if chance < 0.008:
            return Touch(seconds + 45, (card.key,))
        if chance < 0.012:
            return Touch(0.11, (card.key,))
        if chance < 0.03:
            return Touch(seconds, (card.target.stepped(1).midi, card.key))
        wrong = None if card.kind is Kind.KEY else self._slip(card)
        if wrong is None or wrong == card.key:
            return Touch(seconds, (card.key,))
        return Touch(max(0.3, seconds * self._pupil.haste), (wrong,))

    def _slip(self, card: Card) -> int | None:
        pupil = self._pupil
        here = not pupil.habit_notes or str(card.target) in pupil.habit_notes
        if here and self._random.random() < pupil.habit_slips:
            return pupil.habit(card, self._random)
        slips = pupil.slips_left + (pupil.slips - pupil.slips_left) * self._unpractised(card)
        return next_place(card, self._random) if self._random.random() < slips else None

    def _seconds(self, card: Card) -> float:
        pupil = self._pupil
        reading = 0.0
        if card.kind is not Kind.KEY:
            reading = pupil.fluent + (pupil.reading - pupil.fluent) * self._unpractised(card)
            reading += pupil.counted_step * max(0, card.clef.position(card.target))
            if card.target == SLOW_FOR_ALL:
                reading *= SLOW_FOR_ALL_FACTOR
        return 0.3 + (pupil.key + reading - 0.3) * self._random.lognormvariate(0, 0.32)

    def _unpractised(self, card: Card) -> float:
        """Give what is still to be learnt of a card, from 1 down to 0."""
        return float(0.8 ** self._practised.get(card, 0.0))


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
    """Give how many sessions the sample studio has."""
    return sum(
        len(list(_days(pupil, last_day, random.Random(f"{seed} {pupil.nickname}"))))
        for pupil in PUPILS
    )


def _days(pupil: InventedPupil, last_day: date, generator: random.Random) -> Iterator[date]:
    """Give the days of practice: the pupil's weekdays, one in twelve of them left out."""
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
    drill = Drill(Planner(cards, pupil.responses(), seed, minutes=MINUTES), landmarks, started)
    write_played(pupil, drill, _Player(invented, practised, generator), started, seed, generator)


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
