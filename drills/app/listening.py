"""What becomes of what is heard at the piano: dated evidence, and the teacher's answer by it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from drills.app.prior_knowledge import keep_observations, observations_for
from drills.learning.prior_knowledge.finding import QUESTION_OF, Finding, Item
from drills.storage.studio import Pupil


class KeptEvidence:
    """Keeps what is heard of a pupil in her file, and answers that are set by it."""

    def __init__(self, pupil: Pupil, now: Callable[[], datetime]) -> None:
        """Keep for `pupil`; `now` gives aware times."""
        self._pupil = pupil
        self._now = now

    def listened(self, finding: Finding) -> None:
        """Keep what was heard; it changes nothing until an answer is set.

        Raises:
            UserError: it cannot be written.
        """
        before = observations_for(self._pupil)
        keep_observations(before.listened(finding, self._now()), self._pupil)

    def tick(self, item: Item, answer: str) -> None:
        """Set the teacher's answer to what an item tells of, by what was heard of it last.

        Raises:
            UserError: it cannot be written.
        """
        before, question = observations_for(self._pupil), QUESTION_OF[item]
        heard = before.latest_heard(question)
        at = None if heard is None else heard.at
        keep_observations(before.seen(question, answer, self._now(), at), self._pupil)
