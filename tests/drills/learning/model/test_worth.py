"""What one more answer is worth: for teaching a note, and for telling whether it is secured."""

from datetime import UTC, datetime, timedelta

from drills.cards.card import default_cards
from drills.learning.model import Learner
from drills.learning.model.utility import worth
from drills.learning.response import Response

CARDS = default_cards()
NOTE = CARDS[0]
MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
DAY, MINUTE = timedelta(days=1), timedelta(minutes=1)


def read_fluently(days):
    """Have a note read fluently on several days; give the learner and the latest answer's time."""
    learner = Learner(CARDS)
    for day in range(days):
        for minutes in (0, 10):
            at = MONDAY + day * DAY + minutes * MINUTE
            learner.observe(Response(NOTE, at, 1.0, True, NOTE.key))
    return learner, at


def test_a_note_that_seems_secured_is_worth_asking_again_in_the_same_session():
    learner, latest = read_fluently(days=6)
    assert learner.p_by_answers(NOTE, latest) > 0.9
    assert worth(learner, NOTE, latest + 10 * MINUTE) > 0


def test_the_surer_a_note_is_secured_the_less_it_is_worth():
    worths = []
    for days in (2, 4, 8, 16):
        learner, latest = read_fluently(days)
        worths.append(worth(learner, NOTE, latest + 10 * MINUTE))
    assert worths == sorted(worths, reverse=True)


def test_an_answer_hones_a_note_more_the_longer_ago_the_last_one_was():
    learner, latest = read_fluently(days=6)
    worths = [worth(learner, NOTE, latest + pause * MINUTE) for pause in (0, 1, 5, 20)]
    assert worths == sorted(worths)


def test_a_note_as_likely_known_as_not_is_worth_less_than_half_of_one_not_known():
    doubtful, unknown = (Learner(CARDS, brought={NOTE: odds}) for odds in (3.0, 0.001))
    half, whole = (learner.gaps(NOTE, MONDAY)[0] for learner in (doubtful, unknown))
    assert 0.45 < half < 0.55
    assert whole > 0.99
    assert worth(doubtful, NOTE, MONDAY) < 0.5 * worth(unknown, NOTE, MONDAY)


def test_a_note_just_missed_is_worth_more_at_once_if_the_pupil_seldom_just_repeats_what_was_shown():
    worths = []
    for repeats in (1.0, 0.5, 0.0):
        learner = Learner(CARDS)
        learner.observe(Response(NOTE, MONDAY, 4.0, False, NOTE.key + 2))
        for _showing in range(20):
            learner.pupil.saw_prompting(repeats, 1.0)
        worths.append(worth(learner, NOTE, MONDAY + MINUTE / 4))
    assert worths[0] < worths[1] < worths[2]
