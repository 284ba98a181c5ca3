"""The race: many simulated pupils, each taught by every chooser."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from drills.cards.card import Card, default_cards, key_cards
from drills.simulation.benchmark.course import BORN, ORACLE, OURS, Course, Plan, chooser, run
from drills.simulation.benchmark.rivals import RIVALS
from drills.simulation.benchmark.table import written
from drills.simulation.pupils import simulated_pupil
from drills.simulation.pupils.pupil import USUAL_DISTRACTION, Distraction
from landmarks.sets import DEFAULT_SET, built_in_sets

CHOOSERS = (OURS, *RIVALS, ORACLE)
REPORTING_SEEDS = 1000
"""The first of the seeds that only reports use; the planner was tried out on those from 0."""

Race = dict[str, dict[str, list[Course]]]
"""Courses by kind of pupil and chooser, in the order of the seeds: they pair up."""


@dataclass(frozen=True)
class Setting:
    """What a race is run with: seeds, the share of distracted answers, courses, key cards."""

    pupils: int
    first_seed: int = REPORTING_SEEDS
    distraction: float = USUAL_DISTRACTION
    plan: Plan = field(default_factory=Plan)
    keys: bool = False
    """Whether our planner is also given key cards, as in the drill itself."""


def race(kinds: Sequence[str], names: Sequence[str], setting: Setting, workers: int = 1) -> Race:
    """Teach every pupil by every chooser."""
    seeds = range(setting.first_seed, setting.first_seed + setting.pupils)
    tasks = [(kind, name, seed) for kind in kinds for name in names for seed in seeds]
    if workers == 1:
        courses = [_taught(setting, task) for task in tasks]
    else:
        with ProcessPoolExecutor(workers) as pool:
            courses = list(pool.map(partial(_taught, setting), tasks, chunksize=10))
    result: Race = {kind: {name: [] for name in names} for kind in kinds}
    for (kind, name, _), course in zip(tasks, courses, strict=True):
        result[kind][name].append(course)
    return result


def report(
    kinds: Sequence[str],
    names: Sequence[str],
    setting: Setting,
    workers: int,
    picture: Path | None,
) -> str:
    """Run a race; return its table in Markdown, and draw it into a picture if one is named.

    Raises:
        ImportError: a picture is asked for and matplotlib is not installed.
    """
    result = race(kinds, names, setting, workers)
    if picture:
        from drills.simulation.benchmark.picture import draw

        draw(result, picture)
    return written(result, setting.plan.sessions)


def _taught(setting: Setting, task: tuple[str, str, int]) -> Course:
    kind, name, seed = task
    cards = default_cards()
    half = setting.distraction / 2
    pupil = simulated_pupil(kind, cards, BORN, seed, Distraction(half, half))
    given: tuple[Card, ...] = cards
    if setting.keys and name == OURS:
        given = (*key_cards(built_in_sets()[DEFAULT_SET]), *cards)
    teacher = chooser(name, given, pupil, seed, setting.plan)
    return run(teacher, pupil, cards, setting.plan, seed)
