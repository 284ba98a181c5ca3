import argparse
import json
import re
import shutil
import stat

import pytest

from drills.app.user_error import UserError
from drills.commands import demonstrate, gather, review


def run(command, *arguments):
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    return command.run(parser.parse_args([str(argument) for argument in arguments]))


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    folder = tmp_path_factory.mktemp("sample") / "studio"
    assert run(demonstrate, "--studio", folder, "--seed", 4) == 0
    return folder


def test_an_invented_studio_can_be_reviewed_at_once(studio, capsys):
    assert run(review, "--studio", studio) == 0
    told = capsys.readouterr().out
    assert told.startswith("6 pupils, ")
    assert "clef confusion" in told


def test_a_pupil_is_found_whatever_the_capitals(studio, capsys):
    assert run(review, "--studio", studio, "--pupil", "WREN") == 0
    assert capsys.readouterr().out.splitlines()[3].startswith("Clef confusion.")


def test_every_form_is_written_for_its_owner_only(studio, tmp_path):
    names = {"--page": "a.html", "--csv": "a.csv", "--json": "a.json", "--sheet": "sheet.html"}
    options = [part for option, name in names.items() for part in (option, tmp_path / name)]
    assert run(review, "--studio", studio, "--pupil", "Wren", *options) == 0
    for name in names.values():
        assert stat.S_IMODE((tmp_path / name).stat().st_mode) == 0o600
    assert json.loads((tmp_path / "a.json").read_text())[0]["pupil"] == "Wren"
    assert (tmp_path / "a.html").read_text().startswith("<!DOCTYPE html>")


def test_a_sentence_tells_what_cannot_be_done(studio, tmp_path):
    (tmp_path / "file").write_text("")
    wrong = {
        ("--studio", tmp_path / "none"): "holds no pupils",
        ("--studio", studio, "--pupil", "Nobody"): "holds no 'Nobody'; name one of Comet",
        ("--studio", studio, "--sheet", tmp_path / "a.html"): "about one pupil",
        ("--studio", studio, "--since", "2999-01-01"): "lies ahead",
        ("--studio", studio, "--csv", tmp_path / "file" / "a.csv"): "cannot be written",
    }
    for arguments, sentence in wrong.items():
        with pytest.raises(UserError, match=sentence) as refusal:
            run(review, *arguments)
        assert "\n" not in str(refusal.value)


def test_a_date_that_is_none_is_refused(studio):
    with pytest.raises(SystemExit) as end:
        run(review, "--studio", studio, "--since", "last tuesday")
    assert end.value.code == 2


def test_a_review_of_an_earlier_day_leaves_later_sessions_out(studio, capsys):
    assert run(review, "--studio", studio, "--on", "2000-01-01") == 0
    told = capsys.readouterr().out
    assert "not begun yet" in told
    assert "There is no session yet." in told


def test_a_review_long_after_the_latest_session_says_so_first(studio, capsys):
    assert run(review, "--studio", studio, "--on", "2099-01-01") == 0
    told = " ".join(capsys.readouterr().out.split())
    assert told.startswith(
        "6 pupils, Thursday, 1 January 2099. Nobody has practised in the last 14 days: "
    )
    assert run(review, "--studio", studio, "--pupil", "Wren", "--on", "2099-01-01") == 0
    second = capsys.readouterr().out.splitlines()[1]
    assert "none in the last 14 days: this is how reading stood on" in second


def test_a_studio_is_not_invented_over_a_real_one(studio):
    with pytest.raises(UserError, match="holds pupils already"):
        run(demonstrate, "--studio", studio)


def test_a_studio_carried_to_another_machine_is_reviewed_the_same(studio, tmp_path, capsys):
    assert run(gather, studio, "--studio", tmp_path / "taken") == 0
    capsys.readouterr()
    run(review, "--studio", studio)
    here = capsys.readouterr().out
    run(review, "--studio", tmp_path / "taken")
    assert capsys.readouterr().out == here


def test_gathering_from_nowhere_is_refused(tmp_path):
    with pytest.raises(UserError, match="there is no such folder or file"):
        run(gather, tmp_path / "none", "--studio", tmp_path)


def test_a_file_that_could_not_be_used_is_told_and_ends_in_status_2(tmp_path, capsys):
    (tmp_path / "broken.jsonl").write_text("?")
    assert run(gather, tmp_path / "broken.jsonl", "--studio", tmp_path / "studio") == 2
    assert "broken.jsonl: this is not a session file" in capsys.readouterr().out


def test_sessions_of_a_clock_that_was_ahead_are_told_and_left_out(studio, tmp_path, capsys):
    shutil.copytree(studio / "Wren", tmp_path / "Wren")
    latest = sorted((tmp_path / "Wren" / "sessions").iterdir())[-1]
    header, *lines = latest.read_text().splitlines()
    ahead = re.sub('"started":"\\d{4}', '"started":"2099', header)
    latest.with_name("2099" + latest.name[4:]).write_text("\n".join([ahead, *lines]) + "\n")
    assert run(review, "--pupil", "Wren", "--studio", tmp_path) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "1 session is dated later than this review and left out" in told
