from datetime import UTC, date, datetime, timedelta

import pytest

from drills.cards.card import parse_card
from drills.review.collect import collect
from drills.review.pupil import review_pupil
from drills.review.whole_studio import review_studio
from drills.sessions.records import AnsweredRecord, EndedRecord, Header
from drills.simulation.sample_studio import TIME_ZONE, write_sample_studio
from drills.storage.session_file import SessionWriter
from drills.storage.studio import Studio

LAST_DAY = date(2026, 10, 30)
EVENING = datetime(2026, 10, 30, 21, tzinfo=TIME_ZONE)


@pytest.fixture(scope="session")
def reviewed_studio(tmp_path_factory):
    """The invented studio of a seed and its review, each made once."""
    made = {}

    def of(seed):
        if seed not in made:
            studio = Studio(tmp_path_factory.mktemp("studio"))
            write_sample_studio(studio, LAST_DAY, seed)
            reviews = [
                review_pupil(collect(pupil.nickname, pupil.session_files()), EVENING)
                for pupil in studio.pupils()
            ]
            made[seed] = studio, review_studio(reviews, EVENING)
        return made[seed]

    return of


class Notebook:
    """Writes sessions of a pupil, answer by answer, and reviews them."""

    def __init__(self, folder):
        self.folder = folder
        self.folder.mkdir()
        self.started = datetime(2026, 3, 2, 16, tzinfo=UTC)
        self.count = 0

    def session(self, *answers, days_later=1, use="practice", clock="simulated"):
        """Write a session of (card id, seconds, right or the key played) or with why_not."""
        self.started += timedelta(days=days_later)
        self.count += 1
        writer = SessionWriter(
            self.folder,
            Header(
                session=f"{self.count:08x}-0000-4000-8000-000000000000", pupil="Fern",
                started=self.started, clock_ns=0, program="0", port=None, clock=clock,
                set="five", seed=0, use=use,
            ),
        )  # fmt: skip
        t = 0.0
        for card_id, seconds, played, *why_not in answers:
            card = parse_card(card_id)
            t += 1000 * seconds + 1000
            right = played is True or played == card.key
            key = card.key if played is True else played
            verdict, key = (key, card.key) if isinstance(key, str) else ("step", key)
            writer.append(
                AnsweredRecord(
                    t=t, id=card_id, verdict="exact" if right else verdict, played=key,
                    ms=1000 * seconds, attempt=1, hints=0, counted=not why_not,
                    why_not=why_not[0] if why_not else None,
                )
            )  # fmt: skip
        writer.append(EndedRecord(t=t, why="done"))
        writer.close()
        return writer.path

    def record(self, **options):
        return collect("Fern", sorted(self.folder.iterdir()), **options)

    def review(self, days_later=0, since=None):
        now = self.started + timedelta(days=days_later, hours=1)
        return review_pupil(self.record(), now, since)

    def note(self, card_id):
        return next(note for note in self.review().notes if note.card.id == card_id)


@pytest.fixture(scope="session")
def new_notebook_of(tmp_path_factory):
    """Give a notebook of one session with these answers, of none if there are none."""

    def made(answers):
        notebook = Notebook(tmp_path_factory.mktemp("notebook") / "sessions")
        if answers:
            notebook.session(*answers)
        return notebook

    return made


@pytest.fixture
def new_notebook(tmp_path_factory):
    return lambda: Notebook(tmp_path_factory.mktemp("notebook") / "sessions")


@pytest.fixture
def notebook(new_notebook):
    return new_notebook()
