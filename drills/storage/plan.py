"""The home plan: what a pupil practises until the next lesson, as one small file.

The teacher sets it in the lesson; it travels to the home machine by folder, stick or mail.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import msgspec

from drills.cards.card import Card, Kind, parse_card
from drills.storage.files import LARGEST_SMALL_FILE, read_plain
from drills.storage.json_file import parse_small, write_small
from drills.storage.nickname import checked_nickname
from drills.storage.studio import Pupil
from drills.text.errors import DrillsError
from landmarks.sets import LandmarkSet
from landmarks.translation import _

FORMAT = "landmark-drills plan"
VERSION = 1
SUFFIX = ".plan.json"
LONGEST_MINUTES = 60


class PlanError(DrillsError, ValueError):
    """A file that is no usable plan; its one sentence says what, where and what to do."""


class HomePlan(msgspec.Struct, frozen=True, kw_only=True):
    """What to practise: for whom, since when, which cards, for how many minutes a day."""

    format: str = FORMAT
    version: int = VERSION
    pupil: str
    made: datetime
    """Aware; the later of two plans holds."""
    minutes: int
    cards: tuple[str, ...]
    """Card ids in the order of teaching."""

    def asked(self, landmarks: LandmarkSet) -> tuple[Card, ...]:
        """Return the cards themselves, read from the landmarks of a set."""
        return tuple(_from_landmark(parse_card(card_id), landmarks) for card_id in self.cards)


def home_plan(pupil: str, made: datetime, cards: Iterable[Card], minutes: int) -> HomePlan:
    """Make a plan. PlanError if it could not be used."""
    plan = HomePlan(pupil=pupil, made=made, minutes=minutes, cards=tuple(card.id for card in cards))
    _check(plan, "this plan")
    return plan


def write_plan(plan: HomePlan, folder: Path) -> Path:
    """Write a plan into a folder, under its pupil's name; give its path."""
    path = folder / f"{plan.pupil}{SUFFIX}"
    write_small(path, plan)
    return path


def read_plan(path: str | Path) -> HomePlan:
    """Return the plan in a file. Raises: PlanError as `parse_plan`; OSError if unreadable."""
    return parse_plan(read_plain(Path(path), LARGEST_SMALL_FILE), path)


def parse_plan(content: bytes, path: str | Path) -> HomePlan:
    """Return the plan that a file's content is; `path` is for the sentence.

    Raises: PlanError if it is none or could not be used.
    """
    plan = parse_small(content, HomePlan)
    if plan is None or plan.format != FORMAT:
        raise PlanError(
            _(
                "{path}: this is not a home plan; choose a file that landmark-drills wrote, its "
                "name ends in {suffix}"
            ).format(path=path, suffix=SUFFIX)
        )
    _check(plan, str(path))
    return plan


def plan_of(pupil: Pupil) -> HomePlan | None:
    """Return the plan that holds for a pupil, or None. PlanError if its file was damaged."""
    path = pupil.file(SUFFIX)
    return read_plan(path) if path.is_file() else None


def _from_landmark(card: Card, landmarks: LandmarkSet) -> Card:
    if card.kind in (Kind.KEY, Kind.LANDMARK):
        return card
    return replace(card, anchor=landmarks.nearest(card.target, card.clef).pitch)


def _check(plan: HomePlan, where: str) -> None:
    try:
        checked_nickname(plan.pupil)
        cards = [parse_card(card_id) for card_id in plan.cards]
    except ValueError as error:
        raise PlanError(
            _("{where}: {error}; make the plan anew").format(where=where, error=error)
        ) from None
    if not cards:
        raise PlanError(
            _("{where}: it holds no cards; choose at least one note").format(where=where)
        )
    if len(set(cards)) < len(cards):
        raise PlanError(_("{where}: a card is listed twice; keep one of each").format(where=where))
    if not 1 <= plan.minutes <= LONGEST_MINUTES:
        raise PlanError(
            _("{where}: {minutes} minutes is no practice time; put 1 to {longest_minutes}").format(
                where=where, minutes=plan.minutes, longest_minutes=LONGEST_MINUTES
            )
        )
    if plan.made.tzinfo is None:
        raise PlanError(
            _("{where}: its date has no time zone; make the plan anew").format(where=where)
        )
