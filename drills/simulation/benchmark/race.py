"""Run the race from the command line: many simulated pupils, each taught by every chooser."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from drills.cards.card import Card, default_cards, key_cards
from drills.simulation.benchmark.course import BORN, ORACLE, OURS, Course, Plan, chooser, run
from drills.simulation.benchmark.rivals import RIVALS
from drills.simulation.benchmark.table import written
from drills.simulation.pupils import KINDS, simulated_pupil
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


def report(options: argparse.Namespace) -> str:
    """Run the race as the options of `add_arguments` say; give its table in Markdown."""
    setting = Setting(
        options.pupils,
        options.first_seed,
        options.distraction,
        Plan(options.minutes, options.sessions),
        options.key_cards,
    )
    result = race(options.kinds, options.choosers, setting, options.workers)
    if options.picture:
        from drills.simulation.benchmark.picture import draw  # noqa: PLC0415 (matplotlib is slow, optional)

        draw(result, options.picture)
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


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the options of a race."""
    parser.add_argument("--pupils", type=int, default=20, help="pupils of each kind")
    parser.add_argument("--first-seed", type=int, default=REPORTING_SEEDS)
    parser.add_argument("--distraction", type=float, default=USUAL_DISTRACTION)
    parser.add_argument("--minutes", type=float, default=Plan().minutes, help="of a session")
    parser.add_argument("--sessions", type=int, default=Plan().sessions, help="at most")
    parser.add_argument("--kinds", nargs="+", choices=list(KINDS), default=list(KINDS))
    parser.add_argument("--choosers", nargs="+", choices=CHOOSERS, default=list(CHOOSERS))
    parser.add_argument("--key-cards", action="store_true", help="give our planner key cards")
    parser.add_argument("--workers", type=int, default=1, help="processes")
    parser.add_argument("--picture", type=Path, help="draw the race into this PNG file")
