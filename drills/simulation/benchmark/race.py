"""Race many simulated pupils, each taught by every chooser."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

from drills.cards.card import Card, default_cards, key_cards
from drills.simulation.benchmark.contestants import CONTESTANTS, OURS, Contestant
from drills.simulation.benchmark.course import TO_SECURED, Course, Plan, run
from drills.simulation.benchmark.practice import BORN
from drills.simulation.pupils import KINDS, simulated_pupil
from drills.simulation.pupils.pupil import USUAL_DISTRACTION, Distraction
from landmarks.sets import DEFAULT_SET, built_in_sets

REPORTING_SEEDS = 1000
"""The first of the seeds that only reports use; constants are tried out on those from 0."""
CHUNK = 4
"""Courses that a process takes at a time."""


@dataclass(frozen=True)
class Setting:
    """What a race is run with: seeds, the share of distracted answers, the plan, key cards."""

    pupils: int
    first_seed: int = REPORTING_SEEDS
    distraction: float = USUAL_DISTRACTION
    plan: Plan = TO_SECURED
    keys: bool = False
    """Whether our planner is also given key cards, as in the drill itself."""


def race(
    kinds: Sequence[str],
    contestants: Mapping[str, Contestant],
    setting: Setting,
    workers: int = 1,
) -> dict[str, dict[str, list[Course]]]:
    """Return the courses of every pupil with every contestant, by kind and name.

    Contestants must be importable by name where there are several workers.
    """
    seeds = range(setting.first_seed, setting.first_seed + setting.pupils)
    tasks = [(kind, name, seed) for kind in kinds for name in contestants for seed in seeds]
    teach = partial(_teach, setting, contestants)
    if workers == 1:
        courses = [teach(task) for task in tasks]
    else:
        with ProcessPoolExecutor(workers) as pool:
            courses = list(pool.map(teach, tasks, chunksize=CHUNK))
    result: dict[str, dict[str, list[Course]]] = {
        kind: {name: [] for name in contestants} for kind in kinds
    }
    for (kind, name, _), course in zip(tasks, courses, strict=True):
        result[kind][name].append(course)
    return result


def contestants_named(names: Collection[str]) -> dict[str, Contestant]:
    """Return the known contestants of these names, in the table's order."""
    return {name: make for name, make in CONTESTANTS.items() if name in names}


def kinds_without(left_out: Collection[str]) -> tuple[str, ...]:
    """Return all kinds of pupil but those left out: what a constant may be chosen by."""
    return tuple(kind for kind in KINDS if kind not in left_out)


def _teach(
    setting: Setting, contestants: Mapping[str, Contestant], task: tuple[str, str, int]
) -> Course:
    kind, name, seed = task
    cards = default_cards()
    half = setting.distraction / 2
    pupil = simulated_pupil(kind, cards, BORN, seed, Distraction(half, half))
    given: tuple[Card, ...] = cards
    if setting.keys and name == OURS:
        given = (*key_cards(built_in_sets()[DEFAULT_SET]), *cards)
    teacher = contestants[name](given, pupil, seed, setting.plan)
    return run(teacher, pupil, cards, setting.plan, seed)
