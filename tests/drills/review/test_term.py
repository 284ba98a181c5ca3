"""The term: where she was and where she is, from sessions that share none."""

from datetime import UTC, datetime, timedelta

from drills.review.collect import SessionSummary
from drills.review.term import COMPARED, TERM, review_term

NOW = datetime(2026, 12, 18, 16, tzinfo=UTC)


def session(days_ago, seconds, right=8, answers=10):
    return SessionSummary(NOW - timedelta(days=days_ago), 5.0, answers, right, seconds)


def test_the_first_sessions_of_the_term_are_set_beside_the_latest():
    slow = [session(days, 3.0, 6) for days in (60, 58, 56)]
    between = [session(30, 9.0)]
    quick = [session(days, 1.5, 9) for days in (5, 3, 1)]
    term = review_term([*slow, *between, *quick], NOW)
    assert (term.before.seconds, term.before.right) == (3.0, 0.6)
    assert (term.now.seconds, term.now.right) == (1.5, 0.9)
    assert term.before.day == slow[0].started
    assert term.days == 7


def test_one_bad_day_is_no_beginning_and_no_end():
    days = [session(10, 9.0), session(9, 2.0), session(8, 2.0)]
    term = review_term([*days, session(3, 1.0), session(2, 8.0), session(1, 1.0)], NOW)
    assert (term.before.seconds, term.now.seconds) == (2.0, 1.0)


def test_after_a_long_break_now_is_what_came_after_it():
    before = [session(days, 1.5) for days in (60, 58, 56, 54, 52)]
    term = review_term([*before, session(2, 4.0)], NOW)
    assert (term.before.seconds, term.now.seconds) == (1.5, 4.0)


def test_what_was_before_the_term_is_left_out():
    old = [session(TERM.days + days, 9.0) for days in (30, 20, 10)]
    new = [session(days, 2.0) for days in range(2 * COMPARED, 0, -1)]
    assert review_term([*old, *new], NOW).before.seconds == 2.0


def test_too_few_sessions_make_no_term():
    assert review_term([session(days, 2.0) for days in range(2 * COMPARED - 1, 0, -1)], NOW) is None
    assert review_term([session(days, None, 0) for days in range(20, 0, -1)], NOW) is None
