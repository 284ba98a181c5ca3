"""What was seen of a pupil and when, as one small file in her folder that keeps its history."""

from __future__ import annotations

from pathlib import Path

from drills.learning.prior_knowledge.observations import (
    FORMAT,
    Observations,
    PriorKnowledgeError,
    check_answer,
)
from drills.storage.files import LARGEST_SMALL_FILE, read_plain
from drills.storage.json_file import parse_small, write_small
from drills.storage.studio import Pupil
from landmarks.translation import _

SUFFIX = ".beginnings.json"


def observations_of(pupil: Pupil) -> Observations | None:
    """Return what is recorded of a pupil, None if nothing is. Raises: as `read_observations`."""
    path = _path(pupil)
    return read_observations(path) if path.is_file() else None


def read_observations(path: Path) -> Observations:
    """Return what a file tells. Raises: as `parse_observations`; OSError if unreadable."""
    return parse_observations(read_plain(path, LARGEST_SMALL_FILE), path)


def parse_observations(content: bytes, path: Path) -> Observations:
    """Return what a file's content tells; `path` is for the sentence.

    Raises: PriorKnowledgeError if it tells of no pupil, or of what nobody asks.
    """
    found = parse_small(content, Observations)
    if found is None or found.format != FORMAT:
        raise PriorKnowledgeError(
            _(
                "{path}: this does not tell what a pupil brings; choose a file that "
                "landmark-drills wrote, its name ends in {suffix}"
            ).format(path=path, suffix=SUFFIX)
        )
    for seen in found.observations:
        check_answer(seen.question, seen.answer, str(path))
    dates = [seen.at for seen in found.observations] + [set_.at for set_ in found.decisions]
    dates += [heard.at for heard in found.heard]
    if any(at.tzinfo is None for at in dates):
        raise PriorKnowledgeError(
            _("{path}: a date in it has no time zone; add one, as in +01:00").format(path=path)
        )
    return found


def write_observations(beginnings: Observations, pupil: Pupil) -> Path:
    """Write a pupil's file, readable by its owner only, and return its path."""
    path = _path(pupil)
    write_small(path, beginnings)
    return path


def _path(pupil: Pupil) -> Path:
    return pupil.file(SUFFIX)
