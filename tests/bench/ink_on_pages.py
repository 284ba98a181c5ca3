"""Whether a page shows ink that its own figures contradict, over many invented studios.

    python -m tests.bench.ink_on_pages --studios 50

Every studio is written and reviewed as a teacher would, on the last evening of each of its weeks.
Counted are the notes in ink, those of them that the same page names as a trouble, and those with
under eight of their last ten counted answers right.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path

from drills.learning.response import State
from drills.review.collect import PupilRecord, collect
from drills.review.notes import NoteReview
from drills.review.pupil import PupilReview, review_pupil
from drills.simulation.sample_studio import TIME_ZONE, WEEKS, write_sample_studio
from drills.storage.studio import Studio

LAST_DAY = date(2026, 10, 30)
LATEST, ENOUGH_RIGHT = 10, 8


@dataclass
class Ink:
    """Numbers of notes in ink over all pages, and of those that should not be."""

    pages: int = 0
    inked: int = 0
    named: int = 0
    seldom_right: int = 0

    def add(self, record: PupilRecord, review: PupilReview) -> None:
        """Count one page."""
        self.pages += 1
        troubled = {card.place for finding in review.troubles for card in finding.cards}
        for note in review.notes:
            if note.standing.state is State.INK:
                self.inked += 1
                self.named += note.card.place in troubled
                self.seldom_right += seldom_right(record, note)


def seldom_right(record: PupilRecord, note: NoteReview) -> bool:
    """Return whether under eight of a note's last ten counted answers were right."""
    answers = [a for c in record.cards if c.card.place == note.card.place for a in c.latest]
    latest = sorted(answers, key=lambda answer: answer.at)[-LATEST:]
    return len(latest) == LATEST and sum(answer.right for answer in latest) < ENOUGH_RIGHT


def pages_of(seed: int) -> Iterator[tuple[PupilRecord, PupilReview]]:
    """Yield the pages of one invented studio, at the end of each of its weeks."""
    with tempfile.TemporaryDirectory() as folder:
        studio = Studio(Path(folder))
        write_sample_studio(studio, LAST_DAY, seed)
        for pupil in studio.pupils():
            for back in reversed(range(WEEKS)):
                day = LAST_DAY - timedelta(weeks=back)
                files = [path for path in pupil.session_files() if path.name[:10] <= str(day)]
                record = collect(pupil.nickname, files)
                evening = datetime.combine(day, time(21), TIME_ZONE)
                yield record, review_pupil(record, evening)


def main() -> None:
    """Print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--studios", type=int, default=50)
    parser.add_argument("--first-seed", type=int, default=1000)
    options = parser.parse_args()
    ink = Ink()
    for seed in range(options.first_seed, options.first_seed + options.studios):
        for record, review in pages_of(seed):
            ink.add(record, review)
    print(f"{options.studios} studios, {ink.pages} pages, {ink.inked} notes in ink")
    print(f"{ink.named} of them named as a trouble on the same page")
    print(f"{ink.seldom_right} of them with under {ENOUGH_RIGHT} of the last {LATEST} right")


if __name__ == "__main__":
    main()
