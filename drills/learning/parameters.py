"""The numbers of the learning model and of the planner, each with its unit and its source.

They are handed to whoever uses them; nothing else in `drills.learning` holds a number that was
chosen. Where a number was chosen by trial, its source says so, and whether every kind of
simulated pupil was judged by what was chosen without it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import Any

DEFINITION = "definition of this program"
CUSTOM = "common practice, no source"
PRIOR = "prior of this program, no source"
TRIAL = "by trial, leaving out one kind of simulated pupil after the other"
TRIAL_ON_ALL = "by trial on simulated pupils, none of their kinds left out"

Check = Callable[[Any], bool]


def _share(value: float) -> bool:
    return 0 < value < 1


def _positive(value: float) -> bool:
    return value > 0


def _number(default: Any, unit: str, meaning: str, source: str, check: Check = _positive) -> Any:
    return field(
        default=default,
        metadata={"unit": unit, "meaning": meaning, "source": source, "check": check},
    )


@dataclass(frozen=True)
class Parameters:
    """Every number that the learning model and the planner start from.

    Raises:
        ValueError: if a number cannot be one of its kind.

    >>> Parameters().secured_share
    0.9
    """

    # What secured means, and what a page must show of it.
    secured_share: float = _number(
        0.9, "share", "of cold answers right and in fluent time when secured", DEFINITION, _share
    )
    ink_from: float = _number(
        0.8, "probability", "of being secured, from which a note may be inked", PRIOR, _share
    )
    fade_below: float = _number(
        0.4, "probability", "of being secured, below which ink fades", PRIOR, _share
    )
    ink_days: int = _number(2, "days", "with a fluent answer before a note is inked", DEFINITION)
    window: int = _number(10, "answers", "of a note, the latest, that a page counts", DEFINITION)
    window_wrong: int = _number(
        1, "answers", "wrong in the window, at most, for a note to be inked", DEFINITION
    )
    window_right: float = _number(
        0.8, "share", "right in the window, at least, for a note in ink", DEFINITION, _share
    )

    trusted_answers: int = _number(
        60, "answers", "on notes held for secured, the latest, that tell of carelessness", PRIOR
    )

    careless_share: float = _number(
        0.15, "share", "of those answers wrong, from which a pupil is careless", CUSTOM, _share
    )

    # How quick is fluent.
    fluent_factor: float = _number(2.5, "times key-finding time", "fluent time", CUSTOM)
    fluent_cap: float = _number(4.0, "seconds", "longest fluent time", CUSTOM)
    key_seconds: float = _number(
        1.0,
        "seconds",
        "median key-finding time before any is measured",
        "four-choice reaction times of children of 6 to 11, 0.6 to 1.2 s (from memory)",
    )
    key_spread: float = _number(
        0.35, "log seconds", "standard deviation of it between pupils", PRIOR
    )
    key_noise: float = _number(
        0.3, "log seconds", "standard deviation of one pupil's single key-finding times", PRIOR
    )
    quick_share: float = _number(
        0.03,
        "share",
        "of right answers on notes, the quickest, that take hardly longer than a key shown",
        TRIAL_ON_ALL,
        _share,
    )
    quick_answers: int = _number(
        12, "answers", "right, from which their quickest stand in for measured keys", PRIOR
    )
    quick_spread: float = _number(
        0.2, "log seconds", "standard deviation of key-finding time about that stand-in", PRIOR
    )
    kept_times: int = _number(400, "answers", "whose times are kept, the latest", PRIOR)

    # What is believed of a pupil and of a note.
    inattention: float = _number(
        0.06,
        "share",
        "of answers that fail however well the note is known",
        "2 to 10 in 100 known items are slipped on (Corbett and Anderson 1995, from memory); "
        + TRIAL_ON_ALL,
        _share,
    )
    known_at_first: float = _number(
        0.25, "share", "of notes known before they are met", PRIOR, _share
    )
    known_at_first_weight: float = _number(
        3.0, "notes", "met for the first time, that this prior is worth", PRIOR
    )
    known_level: float = _number(
        3.0, "log odds", "of a fluent answer on a note that is known, mean of the prior", PRIOR
    )
    unknown_level: float = _number(
        -1.5, "log odds", "of one on a note that is not, mean of the prior", PRIOR, lambda v: v < 0
    )
    level_spread: float = _number(
        1.1, "log odds", "standard deviation of either prior between notes", PRIOR
    )
    practice: tuple[float, ...] = _number(
        (0.5, 1.5),
        "power",
        "of practice with which the odds of a fluent answer grow: slow and quick pupils",
        "exponents 0.2 to 1.5 for errors and times (Newell and Rosenbloom 1981, from memory)",
        lambda powers: all(map(_positive, powers)),
    )
    practised_level: float = _number(
        5.0, "log odds", "to which practice without an absence can raise a note", PRIOR
    )
    learn_at_once: float = _number(
        0.2,
        "chance",
        "that an answer teaches a note altogether, for pupils who learn so",
        "0.1 to 0.3 in knowledge tracing (Corbett and Anderson 1995, from memory)",
        _share,
    )
    carry: tuple[float, ...] = _number(
        (0.2, 0.75),
        "share",
        "of failures that having just been shown the answer takes away: little or most",
        "recall of paired associates after one item between, about 0.6 (Atkinson and Shiffrin "
        "1968, from memory)",
        lambda shares: all(map(_share, shares)),
    )
    forgetting: float = _number(
        0.7,
        "power",
        "of the days since a note was read with which the odds of a fluent answer fall",
        "power law of forgetting in its odds form; the default curve of FSRS (0.95, 0.81, 0.67, "
        "0.61 after 1, 7, 28, 56 days) has slopes of 0.62 to 0.77",
    )
    lapse: float = _number(
        0.01, "chance", "that a rest loses a note for no reason seen", PRIOR, _share
    )
    change: float = _number(
        0.002, "chance", "that a pupil's ways are other ones from one answer to the next", PRIOR,
        _share,
    )  # fmt: skip
    cold_after: float = _number(
        4.0, "hours", "since a note was read, from which it is read cold", PRIOR
    )

    # How cards are chosen.
    doubt_power: float = _number(
        2.0,
        "power",
        "of the doubt in a note, to which the frequency of its turns is proportional",
        TRIAL + "; optimal reviewing is proportional to doubt (Tabibian et al. 2019)",
    )
    in_hand: int = _number(
        12, "notes", "failed when last asked, with which no new one is brought in", TRIAL
    )
    upkeep_rounds: int = _number(
        2, "answers", "fluent on end on one day, after which a note in ink is fresh", CUSTOM
    )
    session_minutes: float = _number(8.0, "minutes", "a session lasts", CUSTOM)
    session_cards: int = _number(150, "cards", "in a session, at most", CUSTOM)
    break_minutes: float = _number(30.0, "minutes", "without a card, that end a session", CUSTOM)
    closing_tries: int = _number(6, "cards", "asked, at most, to end on a success", CUSTOM)
    keys_at_first: int = _number(4, "cards", "of shown keys in a first session", CUSTOM)
    keys_later: int = _number(2, "cards", "of shown keys in later ones", CUSTOM)
    keys_apart: int = _number(12, "cards", "from one shown key to the next", CUSTOM)

    def __post_init__(self) -> None:
        """Check every number. ValueError, naming the number, if one cannot be."""
        for each in fields(self):
            if not each.metadata["check"](getattr(self, each.name)):
                raise ValueError(f"{each.name} cannot be {getattr(self, each.name)!r}")
        if self.inattention >= 1 - self.secured_share:
            raise ValueError("inattention leaves no room for what secured asks for")

    @cached_property
    def version(self) -> str:
        """A name for these very numbers, as session headers and checkpoints carry it."""
        told = ";".join(f"{each.name}={getattr(self, each.name)!r}" for each in fields(self))
        return hashlib.sha256(told.encode()).hexdigest()[:12]


USUAL = Parameters()


def table() -> list[tuple[str, str, str, str, str]]:
    """Return name, value, unit, meaning and source of every number, in order."""
    return [
        (
            each.name,
            str(getattr(USUAL, each.name)),
            each.metadata["unit"],
            each.metadata["meaning"],
            each.metadata["source"],
        )
        for each in fields(Parameters)
    ]
