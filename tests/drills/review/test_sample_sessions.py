from datetime import datetime
from pathlib import Path

from drills.review.collect import collect
from drills.review.pupil import review_pupil
from drills.simulation.sample_studio import PUPILS, TIME_ZONE
from drills.storage.studio import Studio

SAMPLES = Path(__file__).parents[3] / "sample_sessions"


def test_the_sample_sessions_tell_the_troubles_they_were_made_with():
    evening = datetime(2026, 10, 30, 21, tzinfo=TIME_ZONE)
    told = {}
    for pupil in Studio(SAMPLES).pupils():
        review = review_pupil(collect(pupil.nickname, pupil.session_files()), evening)
        told[pupil.nickname] = str(review.troubles[0].trouble) if review.troubles else "none"
    assert told == {pupil.nickname: pupil.trouble for pupil in PUPILS}
