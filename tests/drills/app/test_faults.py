"""The report of faults: enough to mend them, nothing of a pupil, and no more than ten."""

from __future__ import annotations

import stat

import msgspec

from drills.app.faults import MOST_FAULTS, Fault, keep_fault
from drills.app.practice_context import landmarks_for


def fault(message):
    try:
        landmarks_for(None, None)
    except TypeError as error:
        error.args = (message,)
        return error
    raise AssertionError("a set without a name was found")


def kept_in(path):
    return msgspec.json.decode(path.read_bytes(), type=tuple[Fault, ...])


def test_a_fault_tells_which_line_of_the_program_failed(tmp_path):
    (told,) = kept_in(keep_fault(fault("oh"), tmp_path))
    assert told.kind == "TypeError"
    assert any(
        where.startswith("drills/app/practice_context.py:") and where.endswith(" landmarks_for")
        for where in told.where
    )
    assert told.at.tzinfo is not None


def test_nothing_of_a_pupil_and_no_place_on_the_machine_is_told(tmp_path):
    folder = tmp_path / "Robin"
    folder.mkdir()
    path = keep_fault(fault("Robin played 61 in /home/somebody"), folder)
    told = path.read_text()
    assert not [word for word in ("Robin", "61 in", "/home", str(tmp_path)) if word in told]
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_the_latest_ten_are_kept_and_a_damaged_report_is_begun_anew(tmp_path):
    for _ in range(MOST_FAULTS + 3):
        path = keep_fault(fault("oh"), tmp_path)
    times = [each.at for each in kept_in(path)]
    assert len(times) == MOST_FAULTS
    assert times == sorted(times)
    path.write_text("[{")
    assert len(kept_in(keep_fault(fault("oh"), tmp_path))) == 1


def test_a_report_that_cannot_be_written_is_done_without(tmp_path):
    (tmp_path / "taken").write_text("a letter")
    assert keep_fault(fault("oh"), tmp_path / "taken") is None
