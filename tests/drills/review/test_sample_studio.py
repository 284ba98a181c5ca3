from datetime import date

from drills.simulation.sample_studio import PUPILS, session_count, write_sample_studio
from drills.storage.session_file import read_session
from drills.storage.studio import Studio

LAST_DAY = date(2026, 10, 30)


def files(folder):
    return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*.jsonl")}


def test_the_same_seed_invents_the_same_studio(tmp_path):
    for name in ("a", "b"):
        write_sample_studio(Studio(tmp_path / name), LAST_DAY, 5, PUPILS[:2])
    assert files(tmp_path / "a") == files(tmp_path / "b")
    write_sample_studio(Studio(tmp_path / "c"), LAST_DAY, 6, PUPILS[:2])
    assert files(tmp_path / "a") != files(tmp_path / "c")


def test_every_invented_session_says_that_it_is_simulated(reviewed_studio):
    studio, _ = reviewed_studio(0)
    for pupil in studio.pupils():
        for path in pupil.session_files():
            assert read_session(path).header.clock == "simulated"


def test_the_number_of_sessions_is_known_beforehand(reviewed_studio):
    studio, _ = reviewed_studio(0)
    written = sum(len(pupil.session_files()) for pupil in studio.pupils())
    assert written == session_count(LAST_DAY, 0)


def test_no_pupil_practises_while_away(reviewed_studio):
    studio, _ = reviewed_studio(0)
    for invented in PUPILS:
        first, last = invented.away
        for path in studio.pupil(invented.nickname).session_files():
            back = (LAST_DAY - date.fromisoformat(path.name[:10])).days
            assert first == 0 or not last <= back <= first
