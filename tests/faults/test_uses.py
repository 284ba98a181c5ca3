"""What a person brings, however odd, goes through each command to the page or is refused kindly."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from drills.storage.session_file import read_session
from tests.faults.odd_studio import StudioMaker
from tests.faults.uses import Tried, try_histories, try_score, try_studio

CORPUS = Path(__file__).parent / "corpus"


@pytest.mark.parametrize("first", range(0, 20, 4))
def test_odd_studios_reach_the_page_or_are_refused_in_a_sentence(first, capfd):
    tried = Tried()
    for seed in range(first, first + 4):
        try_histories(seed, tried)
    assert tried.faults == []


@pytest.mark.parametrize("seed", range(6))
def test_odd_scores_reach_the_page_or_are_refused_in_a_sentence(seed, capfd):
    tried = Tried()
    try_score(seed, tried)
    assert tried.faults == []


@pytest.mark.parametrize("studio", sorted(CORPUS.iterdir()), ids=lambda path: path.name)
def test_what_was_a_fault_once_is_none_again(studio, tmp_path, capfd):
    tried = Tried()
    shutil.copytree(studio, tmp_path / "studio")
    (tmp_path / "out").mkdir()
    try_studio(tmp_path / "studio", tmp_path / "out", studio.name, tried)
    assert tried.faults == []


def test_most_odd_studios_hold_answers_that_count(tmp_path):
    counted = 0
    for seed in range(40):
        folder = tmp_path / str(seed)
        StudioMaker(seed).pupil(folder, "Robin")
        for path in folder.rglob("*.jsonl"):
            try:
                counted += len(read_session(path).responses) > 0
            except ValueError:
                continue
    assert counted > 40


def test_a_program_that_fails_is_seen(monkeypatch, capfd):
    monkeypatch.setattr("drills.commands._run_command", lambda _given: 1 / 0)
    tried = Tried()
    try_histories(1, tried)
    assert any("ZeroDivisionError" in fault for fault in tried.faults)
