"""What people mistype at the command line: one sentence, and nothing is lost or made."""

from __future__ import annotations

import os
import stat
import zipfile

import pytest

from drills.app.faults import FAULTS
from drills.commands import main, ports
from drills.storage.studio import Studio
from tests.faults.pupil import recorded_session


@pytest.fixture
def studio(tmp_path):
    studio = Studio(tmp_path / "studio")
    for nickname in ("Robin", "Wren"):
        studio.pupil(nickname)
    recorded_session(studio, "Robin", 1)
    return studio


def said(capsys, *arguments, status=2):
    """Run a command that ends with a status; give its one sentence on the error stream."""
    assert main([str(argument) for argument in arguments]) == status
    out, err = capsys.readouterr()
    assert len(err.splitlines()) == 1, err
    assert out == ""
    return err.removeprefix("landmark-drills: ").rstrip("\n")


def files_below(folder):
    return sorted(path for path in folder.rglob("*"))


@pytest.mark.parametrize(
    "command",
    [
        ["review", "--pupil"], ["warm-up", "--pupil"], ["spot", "--pupil"], ["settings", "--pupil"],
        ["beginnings", "--pupil"], ["handout", "sheet.html", "--pupil"], ["forget", "--yes"],
    ],
)  # fmt: skip
def test_a_mistyped_nickname_creates_nobody_and_the_nearest_is_proposed(
    command, studio, capsys, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    before = files_below(tmp_path)
    told = said(capsys, *command, "Robbin", "--studio", studio.folder)
    assert told == f"{studio.folder} holds no 'Robbin'; did you mean Robin?"
    assert files_below(tmp_path) == before


def test_where_none_is_near_all_are_named(studio, capsys):
    told = said(capsys, "review", "--pupil", "Zebra", "--studio", studio.folder)
    assert told == f"{studio.folder} holds no 'Zebra'; name one of Robin, Wren"


def test_an_empty_studio_says_what_to_do_first(tmp_path, capsys):
    told = said(capsys, "review", "--studio", tmp_path)
    assert "begin with landmark-drills practise --pupil NICKNAME" in told


# Where output goes


def outputs(studio, path):
    where = ["--studio", studio.folder]
    return {
        "page": ["review", *where, "--page", path],
        "csv": ["review", *where, "--csv", path],
        "json": ["review", *where, "--json", path],
        "sheet": ["review", "--pupil", "Robin", *where, "--sheet", path],
        "handout": ["handout", path, "--pupil", "Robin", *where],
        "export": ["export", "Robin", path, *where],
        "questions": ["beginnings", "--sheet", path],
    }


OUTPUTS = ["page", "csv", "json", "sheet", "handout", "export", "questions"]


@pytest.mark.parametrize("output", OUTPUTS)
def test_output_never_replaces_what_is_no_plain_file(output, studio, tmp_path, capsys):
    pipe, folder, link = tmp_path / "pipe", tmp_path / "folder", tmp_path / "device"
    os.mkfifo(pipe)
    folder.mkdir()
    link.symlink_to("/dev/null")
    for path in (pipe, folder, link, "", "/dev/full"):
        assert "it is no plain file" in said(capsys, *outputs(studio, path)[output])
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert folder.is_dir()
    assert link.is_symlink()


@pytest.mark.parametrize("output", OUTPUTS)
def test_no_folder_is_made_for_output(output, studio, tmp_path, capsys):
    path = tmp_path / "weeks" / "one.html"
    told = said(capsys, *outputs(studio, path)[output])
    assert "No such file or directory" in told
    assert not path.parent.exists()


# Files that come and go


def test_to_gather_what_holds_nothing_says_so_and_ends_with_status_1(studio, tmp_path, capsys):
    holiday = tmp_path / "holiday"
    holiday.mkdir()
    (holiday / "sea.jpg").write_bytes(b"\xff\xd8\xff")
    assert main(["gather", str(holiday), "--studio", str(studio.folder)]) == 1
    assert capsys.readouterr().out.splitlines()[-1].startswith("Nothing of a studio was among them")
    assert main(["gather", str(studio.folder), "--studio", str(tmp_path / "other")]) == 0


def test_to_export_a_pupil_without_sessions_says_so_and_ends_with_status_1(
    studio, tmp_path, capsys
):
    file, where = tmp_path / "Wren.zip", ["--studio", str(studio.folder)]
    assert main(["export", "Wren", str(file), *where]) == 1
    assert capsys.readouterr().out == "Nothing is kept of Wren; nothing was packed.\n"
    assert not file.exists()
    main(["settings", "--pupil", "Wren", "--change", "minutes=12", *where])
    capsys.readouterr()
    assert main(["export", "Wren", str(file), *where]) == 1
    assert "Wren has not practised yet" in capsys.readouterr().out
    assert "Wren/Wren.settings.toml" in zipfile.ZipFile(file).namelist()
    assert main(["export", "Robin", str(tmp_path / "Robin.zip"), *where]) == 0


# Odd words


@pytest.mark.parametrize(
    "day", ["0001-01-01", "9999-12-31", "yesterday", "2026-02-30", "", "\x1b[2J", "\udcff"]
)
@pytest.mark.parametrize("option", ["--on", "--since"])
def test_an_odd_date_gets_a_sentence(option, day, studio, capsys):
    with pytest.raises(SystemExit) as end:
        main(["review", "--studio", str(studio.folder), option, day])
    assert end.value.code == 2
    assert "is not a date such as 2026-03-31" in capsys.readouterr().err


def test_what_a_terminal_would_obey_is_not_passed_on(studio, tmp_path, capsys):
    with pytest.raises(SystemExit):
        main(["ports", "--\x1b[2Jclear"])
    assert "\x1b" not in capsys.readouterr().err
    for odd in ("\x1b[2J.toml", "\udcff.toml", "a\nb.toml"):
        told = said(capsys, "practise", "--set", tmp_path / odd, "--studio", studio.folder)
        assert "\x1b" not in told


def test_a_relative_studio_is_the_same_wherever_the_program_goes(studio, monkeypatch, capsys):
    monkeypatch.chdir(studio.folder.parent)
    told = said(capsys, "review", "--pupil", "Robbin", "--studio", studio.folder.name)
    assert told.startswith(f"{studio.folder} holds no 'Robbin'")


def test_a_fault_of_the_program_is_one_sentence_and_is_noted(monkeypatch, tmp_path, capsys):
    def broken(arguments):
        raise KeyError("Robin")

    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr(ports, "run", broken)
    told = said(capsys, "ports")
    (report,) = tmp_path.rglob(FAULTS)
    assert str(report) in told
    assert "Robin" not in told
    assert "Robin" not in report.read_text()
