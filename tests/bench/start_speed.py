"""How long it takes to know a pupil of 100,000 answers: all folded, and from the checkpoint.

Run from the project's root: python -m tests.bench.start_speed
"""

import tempfile
from datetime import UTC, datetime, timedelta
from itertools import cycle, islice
from pathlib import Path
from time import process_time

from drills.cards.card import default_cards
from drills.learning.fluency import USUAL
from drills.learning.prior_knowledge.prior_knowledge import NOTHING
from drills.storage.belief_checkpoint import NAME, planner_of
from drills.storage.studio import Pupil, Studio
from tests.drills.storage.sessions_of_a_pupil import write_session

SESSIONS, ANSWERS = 500, 200
START = datetime(2021, 1, 4, 16, 0, tzinfo=UTC)


def seconds_to_know(pupil: Pupil, now: datetime) -> float:
    """Return the processor seconds to a planner that knows all answers."""
    begun = process_time()
    planner_of(
        pupil, default_cards(), 0, now, asked=None, minutes=8.0, fluency=USUAL,
        prior_knowledge=NOTHING, upkeep=True,
    )  # fmt: skip
    return process_time() - begun


def main() -> None:
    """Print the times."""
    with tempfile.TemporaryDirectory() as folder:
        pupil = Studio(Path(folder)).pupil("Robin")
        cards = list(islice(cycle(default_cards()), ANSWERS))
        for day in range(SESSIONS):
            write_session(pupil, START + timedelta(days=3 * day), cards)
        now = START + timedelta(days=3 * SESSIONS)
        folded, kept = seconds_to_know(pupil, now), seconds_to_know(pupil, now)
        write_session(pupil, now, cards)
        later = seconds_to_know(pupil, now + timedelta(days=1))
        (pupil.folder / NAME).write_bytes(b"{")
        damaged = seconds_to_know(pupil, now + timedelta(days=1))
    print(f"{SESSIONS * ANSWERS} answers in {SESSIONS} files: folded in {folded:.2f} s")
    print(f"from the checkpoint {kept:.2f} s, with one new session {later:.2f} s")
    print(f"a damaged checkpoint {damaged:.2f} s")


if __name__ == "__main__":
    main()
