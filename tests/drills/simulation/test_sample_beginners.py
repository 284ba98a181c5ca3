"""The invented beginners begin on three rungs, climb by their own ways, and their files say why."""

from datetime import date

import pytest

from drills.commands import main
from drills.sessions.records import RungReachedRecord
from drills.simulation.sample_beginners import BEGINNERS, DAYS, write_sample_beginners
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from tests.session_schema import hold

LAST_DAY = date(2026, 3, 13)


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    studio = Studio(tmp_path_factory.mktemp("studio"))
    write_sample_beginners(studio, LAST_DAY)
    return studio


def rungs(pupil):
    events = (event for path in pupil.session_files() for event in read_session(path).events)
    return [event for event in events if isinstance(event, RungReachedRecord)]


def test_they_begin_in_three_places_because_of_what_they_bring(studio):
    firsts = {pupil.nickname: rungs(pupil)[0] for pupil in studio.pupils()}
    assert {name: line.rung for name, line in firsts.items()} == {
        "Piper": "bass-landmarks", "Lark": "five-lines", "Moth": "no-stave",
    }  # fmt: skip
    assert {line.by for line in firsts.values()} == {"beginnings"}
    assert "the recorder" in firsts["Piper"].why


def test_they_reach_the_stave_by_different_ways_and_every_move_has_its_reason(studio):
    ways = set()
    for pupil in studio.pupils():
        lines = rungs(pupil)
        moves = [line for line in lines if line.before is not None]
        assert moves
        assert all(" of the last " in move.why for move in moves)
        ways.add(tuple(dict.fromkeys(line.rung for line in lines)))
        assert any("landmarks" in line.rung for line in lines)
    assert len(ways) == len(BEGINNERS)


def test_they_practise_on_several_days_up_to_the_last_and_their_files_are_as_any_other(studio):
    for pupil in studio.pupils():
        days = [path.name[:10] for path in pupil.session_files()]
        assert 5 <= len(days) == len(set(days)) <= DAYS
        assert max(days) <= str(LAST_DAY)
        assert observations_of(pupil).observations
        for path in pupil.session_files():
            hold(path)


def test_the_same_seed_and_day_give_the_same_files(studio, tmp_path):
    again = Studio(tmp_path / "again")
    write_sample_beginners(again, LAST_DAY)
    for one, other in zip(studio.pupils(), again.pupils(), strict=True):
        assert [p.read_bytes() for p in one.session_files()] == [
            p.read_bytes() for p in other.session_files()
        ]


def test_a_teacher_makes_the_studio_and_reviews_it(tmp_path, capsys):
    folder = tmp_path / "made"
    assert main(["demonstrate", "--beginners", "--studio", str(folder)]) == 0
    assert main(["review", "--studio", str(folder), "--pupil", "Lark"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "3 invented pupils" in told
    assert "The way there:" in told
    assert main(["demonstrate", "--beginners"]) == 2
    assert "add --studio" in capsys.readouterr().err
