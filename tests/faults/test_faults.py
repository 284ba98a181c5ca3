"""A fast share of the faults; all of them by `python -m tests.bench.faults`."""

import errno
import os
import shutil
import signal
import stat
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from unittest import mock

import pytest

from drills.app.session_clock import SessionClock
from drills.commands import main
from drills.sessions.records import AnsweredRecord
from drills.storage.fsync_worker import Syncing
from drills.storage.import_files import files_in
from drills.storage.recorder import RecordingError
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from tests.faults.fuzz import fuzz
from tests.faults.power import cut_power
from tests.faults.pupil import recorded_session, told
from tests.faults.sockets import commands, families, run_without_sockets, traced


def answers_in(path):
    return [told(event) for event in read_session(path).events if isinstance(event, AnsweredRecord)]


def test_whoever_kills_the_program_finds_every_answer_that_was_seen(tmp_path):
    # In a process of its own, which has no threads when it forks.
    source = "from tests.faults.kills import kill_runs; print(kill_runs(25, seed=1))"
    done = subprocess.run(
        [sys.executable, "-c", source], capture_output=True, text=True, check=False
    )
    assert "runs=25" in done.stdout, done.stderr
    assert "answers_lost=0" in done.stdout
    assert "failed_starts=0" in done.stdout
    assert "answers_shown=0" not in done.stdout


def test_a_power_cut_at_any_boundary_loses_no_answer_that_was_synced():
    cut = cut_power(seed=2)
    assert cut.boundaries > 50
    assert cut.files > 1000
    assert cut.synced_answers_lost == cut.unreadable_after_header == 0


def test_damaged_and_hostile_files_are_read_or_refused():
    outcome = fuzz(6500, seed=7)
    assert outcome.faults == []
    assert min(outcome.inputs.values()) == 500


def test_everything_in_a_studio_is_for_its_owner_only(tmp_path):
    for words in commands(tmp_path)[:2]:
        assert main(words) == 0
    for place in ("studio", "demonstration"):
        for path in (tmp_path / place).rglob("*"):
            kind = 0o700 if path.is_dir() else 0o600
            assert stat.S_IMODE(path.stat().st_mode) == kind, path


def test_no_command_opens_a_socket(tmp_path):
    for words in commands(tmp_path):
        done = run_without_sockets(words)
        assert "SOCKET" not in done.stderr, done.stderr
        assert done.returncode == 0, (words, done.stderr)


def test_forbidden_sockets_would_be_seen():
    source = "import socket; socket.socket()"
    hook = "import sys; sys.addaudithook(lambda e, a: e.startswith('socket.') and sys.exit(9)); "
    assert subprocess.run([sys.executable, "-c", hook + source], check=False).returncode == 9


@pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not installed")
def test_the_window_reaches_no_network(tmp_path, scripted_piano, screen):
    source = "import sys; from drills.commands import main; sys.exit(main())"
    trace = tmp_path / "trace"
    words = ["practise", "--pupil", "Robin", "--studio", str(tmp_path / "studio")]
    process = subprocess.Popen([*traced(trace), sys.executable, "-c", source, *words])
    deadline = time.monotonic() + 60
    while not list(tmp_path.glob("studio/*/sessions/*.jsonl")):
        assert time.monotonic() < deadline
        time.sleep(0.05)
    for key in (60, 60, 62, 64):
        scripted_piano.press(key)
        scripted_piano.release(key)
        time.sleep(0.3)
    child = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()[0]
    os.kill(int(child), signal.SIGTERM)
    assert process.wait(20) == 0
    found = families(trace)
    assert found["UNIX"] > 0
    # NETLINK is how SDL hears of the machine's own devices from the kernel (netlink(7)).
    assert set(found) <= {"UNIX", "NETLINK"}, found


class Full:
    """A disk on which so many bytes are left for session files."""

    def __init__(self, left):
        self.left, self._write = left, os.write

    def write(self, descriptor, content):
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            return self._write(descriptor, content)
        if self.left == 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        count = self._write(descriptor, bytes(content[: self.left]))
        self.left -= count
        return count


@pytest.mark.parametrize("left", [0, 1, 200, 1000, 3001, 7777])
def test_a_full_disk_ends_the_session_in_a_sentence_and_keeps_what_was_seen(left, tmp_path):
    seen, studio = [], Studio(tmp_path)
    with (
        mock.patch("os.write", Full(left).write),
        pytest.raises(RecordingError, match=r"No space left.*make room"),
    ):
        recorded_session(studio, "Robin", 1, lambda answer: seen.append(told(answer)))
    if seen:
        [path] = studio.pupil("Robin").session_files()
        assert set(seen) <= set(answers_in(path))
    again = recorded_session(studio, "Robin", 2)
    assert read_session(again).responses


@pytest.mark.parametrize("taken", ["file", "pupil", "studio", "moved"])
def test_a_folder_that_vanishes_in_mid_session_is_made_anew_with_all_of_it(taken, tmp_path):
    studio, seen = Studio(tmp_path / "studio"), []

    def show(answer):
        seen.append(told(answer))
        if len(seen) == 10:
            [path] = studio.pupil("Robin").session_files()
            if taken == "moved":
                studio.folder.rename(tmp_path / "elsewhere")
            elif taken == "file":
                path.unlink()
            else:
                shutil.rmtree(studio.folder / "Robin" if taken == "pupil" else studio.folder)

    path = recorded_session(studio, "Robin", 1, show)
    assert len(seen) > 10
    assert answers_in(path) == seen
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_a_folder_that_cannot_be_made_anew_ends_the_session_in_a_sentence(tmp_path):
    studio, seen = Studio(tmp_path / "studio"), []

    def show(answer):
        seen.append(answer)
        if len(seen) == 10:
            shutil.rmtree(studio.folder)
            studio.folder.write_text("a file in the way")

    with pytest.raises(RecordingError, match="make room or name another folder"):
        recorded_session(studio, "Robin", 1, show)
    assert len(seen) == 10


def test_a_disk_that_fails_when_it_is_synced_is_told():
    trouble = OSError(errno.EIO, "Input/output error")
    syncing = Syncing(mock.Mock(side_effect=trouble))
    syncing.request()
    syncing.close()
    with pytest.raises(OSError, match="Input/output"):
        syncing.request()


def test_two_programs_on_one_pupil_lose_nothing(tmp_path):
    source = (
        "import sys; from pathlib import Path; from drills.storage.studio import Studio;"
        "from tests.faults.pupil import recorded_session, told\n"
        "for n in range(3): recorded_session(Studio(Path(sys.argv[1])), 'Robin',"
        " 10 * int(sys.argv[2]) + n, lambda a: print(told(a)))"
    )
    both = [
        subprocess.Popen(
            [sys.executable, "-c", source, str(tmp_path / "studio"), str(number)],
            stdout=subprocess.PIPE, text=True,
        )
        for number in range(2)
    ]  # fmt: skip
    seen = [line for process in both for line in process.communicate()[0].splitlines()]
    assert [process.returncode for process in both] == [0, 0]
    files = Studio(tmp_path / "studio").pupil("Robin").session_files()
    assert len(files) == 6
    assert sorted(seen) == sorted(answer for path in files for answer in answers_in(path))


def test_a_clock_that_was_set_back_loses_and_refuses_nothing(tmp_path):
    studio, now = Studio(tmp_path), datetime(2026, 3, 2, 16, tzinfo=UTC)
    for days in (0, -400, 1):
        clock = SessionClock(now + timedelta(days=days), 0)
        recorded_session(studio, "Robin", days + 1000, clock=clock)
    assert len(studio.pupil("Robin").session_files()) == 3
    assert main(["review", "--studio", str(tmp_path), "--pupil", "Robin"]) == 0


def test_the_hour_that_comes_twice_in_autumn_keeps_its_order_by_offset(tmp_path):
    # Berlin, 25 October 2026: 03:00 summer time is 02:00 winter time (IANA time zone database).
    studio = Studio(tmp_path)
    for hour, minute, offset in ((2, 50, "+02:00"), (2, 10, "+01:00")):
        started = datetime.fromisoformat(f"2026-10-25T{hour:02}:{minute}:00{offset}")
        recorded_session(studio, "Robin", minute, clock=SessionClock(started, 0))
    read = [read_session(path).header.started for path in studio.pupil("Robin").session_files()]
    assert max(read) - min(read) == timedelta(minutes=20)


@pytest.mark.parametrize("name", ["pianos.json", "Robin/sessions/x.jsonl", "Robin/Robin.plan.json"])
@pytest.mark.parametrize("kind", ["pipe", "endless", "loop", "folder"])
def test_a_pipe_a_device_or_a_loop_in_the_studio_keeps_nobody_waiting(kind, name, tmp_path):
    studio = Studio(tmp_path)
    pupil, path = studio.pupil("Robin"), tmp_path / name
    match kind:
        case "pipe":
            os.mkfifo(path)
        case "endless":
            path.symlink_to("/dev/zero")
        case "loop":
            path.symlink_to(path)
        case "folder":
            path.mkdir()
    assert studio.piano_shifts() == {}
    assert list(pupil.responses()) == []
    recorded_session(studio, "Robin", 1)
    assert main(["review", "--studio", str(tmp_path)]) in (0, 2)
    assert main(["gather", str(tmp_path), "--studio", str(tmp_path)]) in (0, 2)


def test_a_session_larger_than_any_is_refused_in_a_sentence(tmp_path, capsys):
    path = tmp_path / "large.jsonl"
    with path.open("wb") as file:
        file.truncate(2**40)
    assert main(["gather", str(path), "--studio", str(tmp_path / "studio")]) == 2
    assert "larger than 64 MB" in capsys.readouterr().out


def test_an_id_that_climbs_out_of_the_folder_is_no_id(tmp_path):
    studio = Studio(tmp_path / "studio")
    path = recorded_session(studio, "Robin", 1)
    climbing = tmp_path / "stick" / "climbing.jsonl"
    climbing.parent.mkdir()
    session = read_session(path).header.session
    climbing.write_bytes(path.read_bytes().replace(session.encode(), b"/../../../../climbed"))
    before = set(files_in([tmp_path]))
    assert main(["gather", str(climbing), "--studio", str(studio.folder)]) == 2
    assert set(files_in([tmp_path])) == before
