"""What is believed of a pupil, kept beside her session files, so that only new files are folded.

The checkpoint is a shortcut and never the truth: it names the session files that it rests on, by
hash, and what they were folded with. Where anything differs, or it cannot be read, all files are
folded again without a word; it can be removed at any time.
"""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Collection, Sequence
from datetime import datetime
from pathlib import Path

import msgspec

from drills.cards.card import Card
from drills.learning.fluency import Fluency
from drills.learning.model.memory import Folded
from drills.learning.parameters import USUAL
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge
from drills.learning.response import Response
from drills.storage.files import LARGEST_SESSION, read_plain, replace_privately
from drills.storage.session_file import SessionFileError, read_session
from drills.storage.studio import Pupil

NAME = "belief.json"
FORMAT = "landmark-drills belief 1"


class Checkpoint(msgspec.Struct, frozen=True, kw_only=True):
    """Beliefs, the session files that they rest on, and what these were folded with."""

    format: str = FORMAT
    files: tuple[str, ...]
    """Hashes of the files' names and bytes, in their order."""
    context: str
    """Hash of cards, fluent time, prior knowledge and parameters."""
    until: datetime
    """When the latest answer was given; later files must not begin before."""
    folded: Folded


def planner_of(
    pupil: Pupil,
    cards: Sequence[Card],
    seed: int,
    now: datetime,
    *,
    asked: Collection[Card] | None,
    minutes: float,
    fluency: Fluency,
    prior_knowledge: PriorKnowledge,
    upkeep: bool,
) -> Planner:
    """Return a planner that knows a pupil's answers until `now`, from the checkpoint if it holds.

    What is folded anew is kept for the next time. Answers dated after `now` are set aside.
    """
    odds = prior_knowledge.odds(cards)
    context = _context(cards, fluency, odds)
    files = pupil.session_files()
    hashes = tuple(map(_hash, files))
    kept = _read(pupil, context, hashes)
    later = files if kept is None else files[len(kept.files) :]
    answers = [_responses(path) for path in later]
    if kept is not None and any(each.at < kept.until for given in answers for each in given):
        kept, later = None, files
        answers = [_responses(path) for path in files]
    planner = Planner(
        cards, (), seed, asked=asked, minutes=minutes, fluency=fluency, prior_knowledge=odds,
        upkeep=upkeep, folded=None if kept is None else kept.folded,
    )  # fmt: skip
    past = _until(answers, now)
    given = [each for each_file in answers[:past] for each in each_file]
    folded = planner.take_in(given, now)
    done = len(files) - len(later) + past
    if given:
        _write(
            pupil,
            Checkpoint(
                files=hashes[:done], context=context, until=max(each.at for each in given),
                folded=folded,
            ),
        )  # fmt: skip
    planner.take_in((each for each_file in answers[past:] for each in each_file), now)
    return planner


def _until(answers: Sequence[Sequence[Response]], now: datetime) -> int:
    """Return how many files, from the first, hold no answer dated after `now`."""
    late = (place for place, given in enumerate(answers) if any(each.at > now for each in given))
    return next(late, len(answers))


def _responses(path: Path) -> tuple[Response, ...]:
    try:
        return read_session(path).responses
    except (SessionFileError, OSError):
        return ()


def _hash(path: Path) -> str:
    """Return a hash of a file's name and bytes; of one that cannot be read, of its name alone."""
    told = hashlib.blake2b(path.name.encode(errors="surrogateescape") + b"\n", digest_size=16)
    with contextlib.suppress(OSError):
        told.update(read_plain(path, LARGEST_SESSION))
    return told.hexdigest()


def _context(cards: Sequence[Card], fluency: Fluency, odds: dict[Card, float]) -> str:
    told = [
        USUAL.version,
        *(f"{card.id} {odds.get(card, 1.0)!r}" for card in cards),
        repr(fluency),
    ]
    return hashlib.blake2b("\n".join(told).encode(), digest_size=16).hexdigest()


def _read(pupil: Pupil, context: str, hashes: tuple[str, ...]) -> Checkpoint | None:
    """Return the checkpoint if it rests on the first of the files, folded in this context."""
    try:
        content = read_plain(pupil.folder / NAME, LARGEST_SESSION)
        kept = msgspec.json.decode(content, type=Checkpoint)
    except (OSError, msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return None
    holds = (
        kept.format == FORMAT
        and kept.context == context
        and kept.files == hashes[: len(kept.files)]
        and kept.until.tzinfo is not None
    )
    return kept if holds else None


def _write(pupil: Pupil, checkpoint: Checkpoint) -> None:
    """Keep a checkpoint; one that cannot be written is not missed."""
    with contextlib.suppress(OSError):
        replace_privately(pupil.folder / NAME, msgspec.json.encode(checkpoint))
