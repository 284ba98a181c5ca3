"""Odd but well-formed scores through whole commands: a page, or one sentence; never a traceback."""

import pytest

import drills.scores.reading
from drills.commands import main
from drills.scores.shelf import scores_in
from tests.score_fuzz import ScoreMaker

ON_A_SHELF = 60


def in_this_process(work, _seconds):
    """Work as `in_time` does, without the second that a new process takes to begin."""
    return work()


@pytest.mark.parametrize("seed", range(40))
def test_an_odd_score_gives_its_page_or_one_sentence(seed, tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(drills.scores.reading, "run_with_timeout", in_this_process)
    ending, content = ScoreMaker(seed).score()
    path, page = tmp_path / f"kite{ending}", tmp_path / "page.html"
    path.write_bytes(content)
    code = main(["piece", str(path), "--page", str(page)])
    said = capsys.readouterr().err
    if code == 0:
        assert "</html>" in page.read_text(encoding="utf-8")
    else:
        assert code == 2
        assert said.startswith(f"landmark-drills: {path}: ")
        assert said.count("\n") == 1
        assert not page.exists()


def test_a_shelf_of_odd_scores_ranks_or_names_every_file(tmp_path, capsys):
    for seed in range(1000, 1000 + ON_A_SHELF):
        ending, content = ScoreMaker(seed).score()
        (tmp_path / f"kite{seed}{ending}").write_bytes(content)
    (tmp_path / "plain.abc").write_text("X:1\nT:Kite\nM:4/4\nL:1/4\nK:C\nCDEF|\n", encoding="utf-8")
    assert len(scores_in(tmp_path)) == ON_A_SHELF + 1
    assert main(["pieces", str(tmp_path), "--json", str(tmp_path / "shelf.json")]) == 0
    ranked = (tmp_path / "shelf.json").read_text(encoding="utf-8")
    assert main(["pieces", str(tmp_path)]) == 0
    told = capsys.readouterr().out
    for path in scores_in(tmp_path):
        assert path.name in ranked or path.name in told
