"""Two programs on one pupil at the same time: nothing is torn, lost, or brought back."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from itertools import combinations_with_replacement

import pytest

from drills.commands import main
from drills.storage.session_file import read_session
from drills.storage.settings import settings_of
from drills.storage.studio import Studio
from tests.faults.pairs import ACTIONS, CHANGES
from tests.faults.pupil import recorded_session

SESSIONS = 6


class Pair:
    """A studio with one pupil, what a ZIP file holds of her, and two programs at work on it."""

    def __init__(self, folder, *actions):
        self.studio, self.packed = Studio(folder / "studio"), folder / "robin.zip"
        for seed in range(10, 10 + SESSIONS):
            recorded_session(self.studio, "Robin", seed)
        place = ["--studio", str(self.studio.folder)]
        assert main(["settings", *place, "--pupil", "Robin", "--change", "quiet=true"]) == 0
        assert main(["export", *place, "Robin", str(self.packed)]) == 0
        self.brought = {path.name: path.read_bytes() for path in self._sessions()}
        programs = [self._start(action, seed) for seed, action in enumerate(actions, 1)]
        for program in programs:
            assert program.stdout.readline() == "ready\n"
        for program in programs:
            program.stdin.write("go\n")
            program.stdin.flush()
        self.ended = [
            (*program.communicate(timeout=60), program.returncode) for program in programs
        ]

    def _start(self, action, seed):
        words = [action, str(self.studio.folder), str(self.packed), str(seed)]
        pipe = subprocess.PIPE
        return subprocess.Popen(
            [sys.executable, "-m", "tests.faults.pairs", *words],
            stdin=pipe, stdout=pipe, stderr=pipe, text=True,
        )  # fmt: skip

    def _sessions(self):
        return sorted((self.studio.folder / "Robin" / "sessions").glob("*.jsonl"))

    @property
    def is_there(self):
        return (self.studio.folder / "Robin").exists()

    @property
    def kept(self):
        return {path.name: path.read_bytes() for path in self._sessions()}


@pytest.mark.parametrize("actions", list(combinations_with_replacement(ACTIONS, 2)), ids="-".join)
def test_two_programs_on_one_pupil(actions, tmp_path):
    pair = Pair(tmp_path, *actions)
    for action, (_said, errors, status) in zip(actions, pair.ended, strict=True):
        assert "the program failed" not in errors
        if action != "practise":
            assert "Traceback" not in errors
        if "forget" not in actions:
            assert (status, errors) == (0, "")
    if "forget" in actions:
        no_half_pupil_is_left(pair, actions)
    else:
        every_session_is_whole(pair, actions.count("practise"))
    for packed in tmp_path.glob("out*.zip"):
        assert zipfile.ZipFile(packed).testzip() is None
    if actions == ("settings", "settings"):
        settings = settings_of(pair.studio.pupil("Robin"))
        assert (settings.minutes, settings.fluent_cap) == (CHANGES, CHANGES)
    if "settings" in actions and "forget" not in actions:
        assert settings_of(pair.studio.pupil("Robin")).quiet


def no_half_pupil_is_left(pair, actions):
    """Who was removed is gone, but for a gather that began after it, and then all is there."""
    if "gather" in actions and pair.is_there:
        assert pair.kept == pair.brought
    else:
        assert not pair.is_there
    assert not list(pair.studio.folder.glob(".removed-*"))


def every_session_is_whole(pair, practised):
    assert pair.brought.items() <= pair.kept.items()
    assert len(pair.kept) == SESSIONS + practised
    for path in pair.studio.pupil("Robin").session_files():
        assert read_session(path).responses
