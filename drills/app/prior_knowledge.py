"""What a pupil brings: reading it, changing it, and where on the ladder it leads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from drills.app.output import writing_into
from drills.app.user_error import UserError
from drills.learning.ladder.climb import Climber
from drills.learning.ladder.material import ladder_cards
from drills.learning.ladder.rung import rung_named
from drills.learning.prior_knowledge.observations import Observation, Observations
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.learning.prior_knowledge.question import NOT_SEEN, questions
from drills.storage.prior_knowledge_file import observations_of, write_observations
from drills.storage.studio import Pupil
from landmarks.sets import LandmarkSet
from landmarks.translation import _


def observations_for(pupil: Pupil) -> Observations:
    """Return what is set down of a pupil, to be added to.

    Raises:
        PriorKnowledgeError: her file was damaged.
    """
    return observations_of(pupil) or Observations(pupil=pupil.nickname)


def climber(observations: Observations, pupil: Pupil, landmarks: LandmarkSet) -> Climber:
    """Return where a pupil stands on the ladder."""
    return Climber(
        prior_knowledge_of(observations),
        ladder_cards(landmarks),
        pupil.responses(),
        observations.decisions,
    )


def keep_observations(observations: Observations, pupil: Pupil) -> None:
    """Write what a pupil brings.

    Raises:
        UserError: it cannot be written.
    """
    with writing_into(pupil.folder, _("what the pupil brings")):
        write_observations(observations, pupil)


def begin_before_stave(pupil: Pupil, now: datetime) -> None:
    """Set down that a new pupil did not know the picture of a stave.

    Raises:
        UserError: it cannot be written.
    """
    answer = Observation(question="reads-for", answer="none", at=now, by="pupil")
    said = Observations(pupil=pupil.nickname, observations=(answer,))
    keep_observations(observations_for(pupil).united(said), pupil)


def add_answers(observations: Observations, given: Iterable[str], now: datetime) -> Observations:
    """Return observations with answers added, each given as "question=answer".

    Raises:
        PriorKnowledgeError: there is no such question, or no such answer to it.
    """
    for each in given:
        question, _equals, answer = each.partition("=")
        observations = observations.seen(question, answer, now)
    return observations


def set_on_rung(
    observations: Observations, rung: str, stands: Climber, now: datetime
) -> Observations:
    """Return observations with the teacher's decision: a rung's name, or "up" or "down".

    Raises:
        UserError: there is no such rung.
    """
    wanted = {"up": 1, "down": -1}.get(rung)
    if wanted is not None:
        place = stands.rungs.index(stands.stands) + wanted
        decided = stands.rungs[min(max(place, 0), len(stands.rungs) - 1)]
    else:
        try:
            decided = rung_named(rung, stands.rungs)
        except LookupError as error:
            raise UserError(error.args[0]) from None
    return observations.decided(decided.name, now)


def told_observations(observations: Observations, stands: Climber) -> Iterator[str]:
    """Yield lines of a terminal: what is set down, and where the pupil stands and why."""
    yield _("What {pupil} brings").format(pupil=observations.pupil)
    answers, part = observations.answers(), None
    for name, question in questions().items():
        if question.part is not part:
            part = question.part
            yield f" {part.words}"
        seen = answers.get(name)
        if seen is None:
            yield f"  {_(question.asks)}: {question.words(NOT_SEEN)}"
        else:
            choice = question.answers[seen.answer]
            yield f"  {_(question.asks)}: {question.words(seen.answer)} ({seen.at:%Y-%m-%d})"
            yield f"      {_(choice.changes)}"
            if seen.note:
                yield _("      parents: {note}").format(note=seen.note)
    yield _("The ladder")
    for rung in stands.rungs:
        here = rung == stands.stands
        yield f"  {'>' if here else ' '} {rung.name}: {rung.title}"
        if here:
            yield f"      {stands.why}"
