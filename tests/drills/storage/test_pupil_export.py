"""All that is kept of a pupil can be given away and removed."""

import os
import stat
import zipfile

import pytest

from drills.commands import main
from drills.storage.import_files import files_in, take_in_files
from drills.storage.studio import Studio
from tests.faults.pupil import recorded_session


@pytest.fixture
def studio(tmp_path):
    studio = Studio(tmp_path / "studio")
    for nickname in ("Robin", "Wren"):
        recorded_session(studio, nickname, seed=1)
        recorded_session(studio, nickname, seed=2)
    (studio.folder / "Robin" / "Robin.plan.json").write_text("{}")
    (studio.folder / "Robin" / ".draft.1").write_text("half")
    return studio


def run(studio, *words):
    return main([*words, "--studio", str(studio.folder)])


def files(folder):
    return {path.relative_to(folder): path.read_bytes() for path in files_in([folder])}


def test_a_forgotten_pupil_leaves_no_trace_and_the_others_stay(studio, capsys):
    wren = files(studio.folder / "Wren")
    assert run(studio, "forget", "robin", "--yes") == 0
    assert "Robin: 2 sessions, 1 home plan, 1 other file" in capsys.readouterr().out
    assert [path.name for path in studio.folder.iterdir() if path.is_dir()] == ["Wren"]
    assert not any("robin" in str(path).lower() for path in studio.folder.rglob("*"))
    assert not any(b"robin" in content.lower() for content in files(studio.folder).values())
    assert files(studio.folder / "Wren") == wren


def test_nobody_is_forgotten_unasked(studio, capsys, monkeypatch):
    assert run(studio, "forget", "Robin") == 2
    assert "add --yes" in capsys.readouterr().err
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", lambda question: "no")
    assert run(studio, "forget", "Robin") == 0
    assert len(studio.pupils()) == 2


def test_what_a_link_in_the_folder_leads_to_is_not_removed(studio, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "thesis").write_text("years of work")
    (studio.folder / "Robin" / "link").symlink_to(elsewhere)
    assert run(studio, "forget", "Robin", "--yes") == 0
    assert (elsewhere / "thesis").exists()


@pytest.mark.parametrize("command", ["forget", "export"])
def test_who_is_not_there_is_refused_in_a_sentence_that_names_who_is(command, studio, capsys):
    rest = ["--yes"] if command == "forget" else [str(studio.folder / "x.zip")]
    assert run(studio, command, "Finch", *rest) == 2
    assert "name one of Robin, Wren" in capsys.readouterr().err


def test_an_export_holds_every_file_and_can_be_gathered_again(studio, tmp_path, capsys):
    packed = tmp_path / "robin.zip"
    assert run(studio, "export", "Robin", str(packed)) == 0
    assert stat.S_IMODE(packed.stat().st_mode) == 0o600
    with zipfile.ZipFile(packed) as archive:
        assert archive.testzip() is None
        archive.extractall(tmp_path / "unpacked")
    unpacked = files(tmp_path / "unpacked" / "Robin")
    readme = unpacked.pop(next(path for path in unpacked if path.name == "readme.txt"))
    assert b"one file a session" in readme
    assert unpacked == files(studio.folder / "Robin")
    for name, sent in (("from the ZIP file", packed), ("from the folder", tmp_path / "unpacked")):
        other = Studio(tmp_path / name)
        take_in_files(files_in([sent]), other)
        assert files(other.folder / "Robin/sessions") == files(studio.folder / "Robin/sessions")


def test_the_same_files_give_the_same_export(studio, tmp_path):
    one, other = tmp_path / "one.zip", tmp_path / "other.zip"
    run(studio, "export", "Robin", str(one))
    for path in files_in([studio.folder]):
        os.utime(path, (1, 1))
    run(studio, "export", "Robin", str(other))
    assert one.read_bytes() == other.read_bytes()


def test_an_export_that_cannot_be_whole_says_so(studio, tmp_path, capsys):
    os.mkfifo(studio.folder / "Robin" / "pipe")
    assert run(studio, "export", "Robin", str(tmp_path / "robin.zip")) == 2
    assert "pipe: left out" in capsys.readouterr().out


def test_a_removal_that_was_cut_off_is_finished_by_the_next_start(studio):
    left = studio.folder / ".removed-0123"
    (studio.folder / "Robin").rename(left)
    assert run(studio, "review") in (0, 1)
    assert not left.exists()


def test_the_pages_of_the_whole_studio_go_with_whoever_is_forgotten(studio):
    (studio.folder / "everybody.html").write_text("<p>Robin and Wren</p>")
    assert run(studio, "forget", "Robin", "--yes") == 0
    assert not list(studio.folder.glob("*.html"))
