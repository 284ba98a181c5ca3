"""`landmark-drills beginnings`: what a pupil brings, and where on the ladder she stands."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from drills.commands.music import music_of
from drills.commands.options import add_drill_options, add_studio_option, pupil_of, studio_of
from drills.commands.output import kept_in, print_lines, write_file
from drills.commands.refusal import Refusal
from drills.commands.screen import opened_screen
from drills.commands.sitting import only_pupil
from drills.commands.usable import usable_settings
from drills.learning.ladder.climb import Climber
from drills.learning.ladder.material import ladder_cards
from drills.learning.ladder.rung import rung_named
from drills.learning.prior_knowledge.observations import Observations, PriorKnowledgeError
from drills.learning.prior_knowledge.prior_knowledge import brought
from drills.learning.prior_knowledge.question import NOT_SEEN, questions
from drills.reports.parent_questions import parents_sheet
from drills.storage.prior_knowledge_file import observations_of, write_observations
from drills.storage.studio import Pupil
from landmarks.sets import LandmarkSet
from landmarks.translation import _, noted

if TYPE_CHECKING:
    from drills.window.scene import Scene

DESCRIPTION = noted("""\
Set down what a pupil brings to her first lessons, by mouse, finger or arrow keys, and change it as
you watch. From the first answer on, practice follows the ladder: shapes, keys, landmarks, steps,
mixed clefs, beginning where she can. Every move and its reason is in her session files.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--pupil", metavar=_("NICKNAME"), help=_("whose (the only pupil there is)"))
    parser.add_argument(
        "--list",
        action="store_true",
        help=_("print what is set down, and where she stands and why"),
    )
    parser.add_argument(
        "--seen", action="append", default=[], metavar=_("QUESTION=ANSWER"),
        help=_("set an answer without the window: ") + ", ".join(questions()),
    )  # fmt: skip
    parser.add_argument(
        "--rung",
        metavar=_("NAME"),
        help=_("set her on a rung of the ladder, or one `up` or `down`"),
    )
    parser.add_argument(
        "--sheet", type=Path, metavar=_("FILE.html"),
        help=_("write the questions for parents, to print or to fill in on the screen"),
    )  # fmt: skip
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Open the page, or do what the options say and print where she stands."""
    if arguments.sheet is not None:
        write_file(arguments.sheet, parents_sheet())
        return 0
    studio = studio_of(arguments)
    pupil = pupil_of(arguments.pupil or only_pupil(studio), studio)
    landmarks = music_of(arguments, pupil).landmarks
    beginnings = _known(pupil)
    try:
        changed = _changed(beginnings, arguments, pupil, landmarks)
    except PriorKnowledgeError as error:
        raise Refusal(error) from None
    if changed != beginnings:
        keep(changed, pupil)
    if arguments.list or changed != beginnings:
        print_lines(_told(changed, climber(changed, pupil, landmarks)))
        return 0
    from drills.window.static_window import show_alone  # noqa: PLC0415

    scene = beginnings_scene(pupil, landmarks)
    show_alone(opened_screen(arguments), scene, usable_settings(pupil).speech)
    return 0


def beginnings_scene(pupil: Pupil, landmarks: LandmarkSet) -> Scene:
    """Give the page of what a pupil brings. Refusal if her file is damaged."""
    from drills.window.pages.prior_knowledge import BeginningsPage  # noqa: PLC0415

    return BeginningsPage(
        _known(pupil), lambda now: climber(now, pupil, landmarks), lambda now: keep(now, pupil),
        _now,
    )  # fmt: skip


def _known(pupil: Pupil) -> Observations:
    try:
        return observations_of(pupil) or Observations(pupil=pupil.nickname)
    except PriorKnowledgeError as error:
        raise Refusal(error) from None


def climber(beginnings: Observations, pupil: Pupil, landmarks: LandmarkSet) -> Climber:
    """Give where a pupil stands on the ladder."""
    return Climber(
        brought(beginnings), ladder_cards(landmarks), pupil.responses(), beginnings.decisions
    )


def keep(beginnings: Observations, pupil: Pupil) -> None:
    """Write a pupil's beginnings. Refusal if they cannot be written."""
    with kept_in(pupil.folder, _("what the pupil brings")):
        write_observations(beginnings, pupil)


def _changed(
    beginnings: Observations, arguments: argparse.Namespace, pupil: Pupil, landmarks: LandmarkSet
) -> Observations:
    for given in arguments.seen:
        question, _equals, answer = given.partition("=")
        beginnings = beginnings.seen(question, answer, _now())
    if arguments.rung is None:
        return beginnings
    stands = climber(beginnings, pupil, landmarks)
    wanted = {"up": 1, "down": -1}.get(arguments.rung)
    if wanted is not None:
        place = stands.rungs.index(stands.stands) + wanted
        rung = stands.rungs[min(max(place, 0), len(stands.rungs) - 1)]
    else:
        try:
            rung = rung_named(arguments.rung, stands.rungs)
        except LookupError as error:
            raise Refusal(error.args[0]) from None
    return beginnings.decided(rung.name, _now())


def _told(beginnings: Observations, stands: Climber) -> Iterator[str]:
    yield _("What {pupil} brings").format(pupil=beginnings.pupil)
    answers = beginnings.answers()
    for name, question in questions().items():
        seen = answers.get(name)
        if seen is None:
            yield f"  {_(question.asks)}: {question.words(NOT_SEEN)}"
        else:
            choice = question.answers[seen.answer]
            yield f"  {_(question.asks)}: {question.words(seen.answer)} ({seen.at:%Y-%m-%d})"
            yield f"      {_(choice.changes)}"
    yield _("The ladder")
    for rung in stands.rungs:
        here = rung == stands.stands
        yield f"  {'>' if here else ' '} {rung.name}: {rung.title}"
        if here:
            yield f"      {stands.why}"


def _now() -> datetime:
    return datetime.now().astimezone()
