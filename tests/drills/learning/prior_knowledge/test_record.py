"""The file of what a pupil brings: dated, with its history, readable, hers alone."""

import json
import stat
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.learning.prior_knowledge.observations import Observations, PriorKnowledgeError
from drills.learning.prior_knowledge.question import questions
from drills.storage.import_files import Taken, take_in_files
from drills.storage.prior_knowledge_file import (
    observations_of,
    read_observations,
    write_observations,
)
from drills.storage.studio import Studio
from tests.drills.learning.ladder.test_beginners import BEFORE

ROBIN = Observations(pupil="Robin").seen("pulse", "not-yet", BEFORE)


def test_the_latest_answer_holds_and_the_earlier_ones_are_kept(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    later = ROBIN.seen("pulse", "yes", BEFORE + timedelta(days=7))
    path = write_observations(later.decided("one-line", BEFORE + timedelta(days=8)), pupil)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    told = json.loads(path.read_text("utf-8"))
    assert [(each["answer"], each["at"][:10]) for each in told["observations"]] == [
        ("not-yet", "2026-02-27"), ("yes", "2026-03-06"),
    ]  # fmt: skip
    read = observations_of(pupil)
    assert read == later.decided("one-line", BEFORE + timedelta(days=8))
    assert read.answer("pulse") == "yes"


def test_of_a_pupil_of_whom_nothing_is_set_down_there_is_nothing(tmp_path):
    assert observations_of(Studio(tmp_path).pupil("Robin")) is None


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "does not tell what a pupil brings"),
        (b"{}", "does not tell what a pupil brings"),
        (b'{"format":"x","pupil":"R"}', "does not tell what a pupil brings"),
        (b'{"pupil":"R","observations":[{"question":"mood","answer":"yes",'
         b'"at":"2026-03-02T16:00:00+01:00"}]}', "'mood' is no question; put one of higher-lower"),
        (b'{"pupil":"R","observations":[{"question":"pulse","answer":"often",'
         b'"at":"2026-03-02T16:00:00+01:00"}]}', "'often' is no answer to pulse; put one of yes"),
        (b'{"pupil":"R","decisions":[{"rung":"one-line","at":"2026-03-02T16:00:00"}]}',
         "a date in it has no time zone"),
    ],
)  # fmt: skip
def test_a_damaged_file_is_refused_in_one_sentence(tmp_path, content, said):
    path = tmp_path / "R.beginnings.json"
    path.write_bytes(content)
    with pytest.raises(PriorKnowledgeError, match=said) as refused:
        read_observations(path)
    assert str(path) in str(refused.value)


asked = st.sampled_from([(q, a) for q, each in questions().items() for a in each.options])
histories = st.lists(st.tuples(asked, st.integers(0, 50)), max_size=6)


def told(history):
    beginnings = Observations(pupil="Robin")
    for (question, answer), day in sorted(history, key=lambda each: each[1]):
        beginnings = beginnings.seen(question, answer, BEFORE + timedelta(days=day))
    return beginnings


@given(histories, histories)
def test_two_copies_united_lose_nothing_and_tell_nothing_twice(one, other):
    united = told(one).united(told(other))
    assert set(united.observations) == {*told(one).observations, *told(other).observations}
    assert len(set(united.observations)) == len(united.observations)
    assert united.united(told(one)) == united


def test_what_the_teacher_set_down_reaches_the_home_machine(tmp_path):
    lesson, home = Studio(tmp_path / "lesson"), Studio(tmp_path / "home")
    path = write_observations(ROBIN, lesson.pupil("Robin"))
    assert take_in_files([path], home).beginnings == {Taken.NEW: 1}
    assert take_in_files([path], home).beginnings == {Taken.KNOWN: 1}
    at_home = home.pupil("Robin")
    write_observations(observations_of(at_home).seen("clap-back", "yes", BEFORE), at_home)
    write_observations(
        ROBIN.seen("pulse", "yes", BEFORE + timedelta(days=1)), lesson.pupil("Robin")
    )
    assert take_in_files([path], home).beginnings == {Taken.LONGER: 1}
    assert {*observations_of(at_home).answers()} == {"pulse", "clap-back"}
