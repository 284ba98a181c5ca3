"""The command line: what it says and leaves behind, and how it refuses."""

import os
import resource
import struct
import subprocess
import sys
import tempfile
import tomllib
from importlib.metadata import entry_points
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet

from drills.app.demonstration import NICKNAME
from drills.commands import main, practise
from drills.piano import Port
from drills.sessions.records import AnsweredRecord
from drills.storage.session_file import read_session
from tests.session_schema import hold

ROOT = Path(__file__).parents[3]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
SECONDS = 60
"""What a command that must end by itself is given."""


def refused(arguments, capsys):
    """Run a command that must refuse; give its one sentence."""
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("landmark-drills: ")
    assert len(err.splitlines()) == 1
    return err.removeprefix("landmark-drills: ").rstrip("\n")


def run(*arguments, **options):
    """Run the program by itself, without a screen."""
    without = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")
    environment = {name: value for name, value in os.environ.items() if name not in without}
    environment |= {"XDG_RUNTIME_DIR": tempfile.gettempdir(), "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [sys.executable, "-c", "import sys; from drills.commands import main; sys.exit(main())",
         *map(str, arguments)],
        env=environment, capture_output=True, text=True,
        timeout=SECONDS, check=False, **options,
    )  # fmt: skip


def test_the_command_is_installed_under_its_name():
    (command,) = entry_points(group="console_scripts", name="landmark-drills")
    assert command.value == "drills.commands:main"


@pytest.mark.parametrize("command", ["practise", "demonstrate", "ports"])
def test_each_command_explains_itself_and_its_options(command, capsys):
    with pytest.raises(SystemExit) as end:
        main([command, "--help"])
    assert end.value.code == 0
    out = " ".join(capsys.readouterr().out.split())
    assert f"usage: landmark-drills {command}" in out
    teaches = {
        "practise": ["--pupil NICKNAME", "--studio FOLDER", "--seed", "Escape", "nickname", "five"],
        "demonstrate": ["--headless", "--folder", "simulated pupil", "--seed"],
        "ports": ["MIDO_BACKEND", "--studio FOLDER"],
    }
    for words in teaches[command]:
        assert words in out


def test_the_help_of_the_program_shows_an_example_of_each_command(capsys):
    with pytest.raises(SystemExit) as end:
        main(["--help"])
    assert end.value.code == 0
    out = capsys.readouterr().out
    for command in ("practise", "demonstrate", "ports"):
        assert f"landmark-drills {command}" in out.split("examples:")[1]


def test_without_a_command_the_window_is_opened(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.delenv("DISPLAY", raising=False)
    assert "no screen to open a window on" in refused([], capsys)


@pytest.mark.parametrize(
    "arguments",
    [
        ["dance"], ["practise", "--size", "big"], ["practise", "--size", "100x100"],
        ["practise", "--size", "9" * 5000 + "x768"], ["practise", "--names", "numbers"],
        ["practise", "--seed", "lucky"], ["practise", "--seed", "-1"],
        ["practise", "--seed", str(2**70)], ["practise", "--seed", "9" * 5000],
    ],
)  # fmt: skip
def test_a_wrong_option_ends_with_status_2_and_says_what_is_expected(arguments, capsys):
    with pytest.raises(SystemExit) as end:
        main(arguments)
    assert end.value.code == 2
    assert "error: " in capsys.readouterr().err


def test_the_end_by_the_keyboard_of_a_terminal_shows_no_inner_workings(monkeypatch, capsys):
    def interrupted(arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(practise, "run", interrupted)
    assert main(["practise"]) == 130
    assert capsys.readouterr().err == ""


# Landmark sets


@pytest.mark.parametrize("command", ["practise", "demonstrate"])
def test_a_bad_set_file_is_refused_by_name_entry_and_what_is_expected(command, tmp_path, capsys):
    file = tmp_path / "mine.toml"
    file.write_text('anchors = [{ clef = "treble", note = "H4" }]')
    said = refused([command, "--set", str(file)], capsys)
    assert said.startswith(f"{file}: anchor 1: note must be a white key")
    assert said.endswith("not 'H4'")
    assert list(tmp_path.iterdir()) == [file]


def test_a_set_that_is_neither_built_in_nor_a_file_is_refused_with_those_there_are(capsys):
    said = refused(["practise", "--set", "seven"], capsys)
    assert said == (
        "seven: no such set can be read (No such file or directory); name a file or one of "
        "five, f-c-g, cs, clef-lines, outward"
    )


def test_a_set_that_is_not_text_is_refused(tmp_path, capsys):
    file = tmp_path / "mine.toml"
    file.write_bytes(b"\xff\xfe\x00")
    said = refused(["practise", "--set", str(file)], capsys)
    assert said == f"{file}: this is not UTF-8 text; save the set as UTF-8"


def test_a_folder_for_a_set_is_refused(tmp_path, capsys):
    assert "no such set can be read" in refused(["practise", "--set", str(tmp_path)], capsys)


def test_a_teachers_own_set_is_drilled_under_the_name_of_its_file(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text('anchors = [{ clef = "bass", note = "C2", steps_below = 0 }]')
    folder = tmp_path / "out"
    assert main(["demonstrate", "--headless", "--set", str(file), "--folder", str(folder)]) == 0
    session = read_session(next(folder.glob("*/sessions/*.jsonl")))
    assert session.header.set == "mine"
    assert {r.card.id for r in session.responses} <= {
        "landmark/bass/C2", "step/bass/D2", "key/bass/C2",
    }  # fmt: skip


# Pupils and folders


def test_a_bad_nickname_is_refused_and_leaves_no_folder(tmp_path, capsys):
    studio = tmp_path / "studio"
    said = refused(["practise", "--studio", str(studio), "--pupil", "../Robin"], capsys)
    assert said.startswith("'../Robin' cannot be a nickname: use 1 to 24 letters")
    assert not studio.exists()


@pytest.mark.parametrize(
    ("command", "option"), [("practise", "--studio"), ("demonstrate", "--folder")]
)
def test_a_folder_that_cannot_be_made_is_refused(command, option, tmp_path, capsys):
    taken = tmp_path / "taken"
    taken.write_text("a letter")
    said = refused([command, option, str(taken)], capsys)
    assert "this folder cannot be made" in said
    assert said.endswith("name another folder")
    assert taken.read_text() == "a letter"


def test_where_there_are_several_pupils_one_must_be_named(tmp_path, capsys):
    for nickname in ("Wren", "Robin"):
        (tmp_path / nickname / "sessions").mkdir(parents=True)
    said = refused(["practise", "--studio", str(tmp_path)], capsys)
    assert said == f"{tmp_path} holds several pupils; add --pupil and one of Robin, Wren"


# No screen


@pytest.mark.parametrize("command", ["practise", "demonstrate"])
def test_without_a_screen_it_says_so_and_ends_by_itself(command, tmp_path):
    where = ["--studio" if command == "practise" else "--folder", tmp_path / "studio"]
    ended = run(command, *where)
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert len(ended.stderr.splitlines()) == 1
    assert ended.stderr.startswith("landmark-drills: no screen to open a window on (")
    assert ended.stderr.endswith(
        "to see the drill at work without one, run landmark-drills demonstrate --headless\n"
    )
    assert list(tmp_path.glob("**/*.jsonl")) == []


# The demonstration


def test_the_demonstration_without_a_screen_leaves_a_session_and_a_picture(tmp_path):
    folder = tmp_path / "demonstration"
    ended = run("demonstrate", "--headless", "--folder", folder, "--seed", 5, "--size", "800x600")
    assert (ended.returncode, ended.stderr) == (0, "")
    (file,) = folder.glob("*/sessions/*.jsonl")
    picture = folder / "last-card.png"
    assert ended.stdout == f"the last card: {picture}\nthe session: {file}\n"
    lines = hold(file)
    assert lines[0]["seed"] == 5
    assert lines[0]["clock"] == "simulated"
    assert lines[-1]["why"] == "done"
    # PNG (ISO/IEC 15948): signature, then the header chunk with width and height.
    png = picture.read_bytes()
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert struct.unpack(">II", png[16:24]) == (800, 600)
    assert len(set(png)) > 200


def test_the_same_seed_plays_the_same_session(tmp_path):
    def played(folder, seed):
        main(["demonstrate", "--headless", "--folder", str(tmp_path / folder), "--seed", seed])
        (file,) = (tmp_path / folder).glob("*/sessions/*.jsonl")
        return read_session(file).events

    first = played("one", "11")
    assert played("two", "11") == first
    assert played("three", "12") != first


def test_demonstrations_leave_earlier_ones_alone(tmp_path):
    for _ in range(2):
        assert main(["demonstrate", "--headless", "--folder", str(tmp_path)]) == 0
    assert len(list(tmp_path.glob("*/sessions/*.jsonl"))) == 2


def test_a_demonstration_shows_right_and_wrong_and_clumsy_answers(tmp_path):
    for seed in "123":
        main(["demonstrate", "--headless", "--folder", str(tmp_path), "--seed", seed])
    verdicts = {
        event.verdict
        for file in tmp_path.glob("*/sessions/*.jsonl")
        for event in read_session(file).events
        if isinstance(event, AnsweredRecord)
    }
    assert verdicts >= {"exact", "step", "octave", "clef", "brushed", "cluster"}


# Disks


def test_a_full_disk_ends_the_session_in_one_sentence_and_loses_nothing_written(tmp_path):
    room = 3000

    def little_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))

    ended = run("demonstrate", "--headless", "--folder", tmp_path, preexec_fn=little_room)
    sessions = tmp_path / NICKNAME / "sessions"
    assert ended.returncode == 2
    assert ended.stderr == (
        f"landmark-drills: {sessions}: the session cannot be written here (File too large); make "
        "room or name another folder, what was written before is kept\n"
    )
    (file,) = sessions.iterdir()
    assert file.stat().st_size == room
    assert len(read_session(file).events) == file.read_bytes().count(b"\n") - 1 > 10


def test_a_picture_that_cannot_be_written_is_told_in_one_sentence(tmp_path, capsys):
    (tmp_path / "last-card.png").mkdir()
    said = refused(["demonstrate", "--headless", "--folder", str(tmp_path)], capsys)
    assert said == (
        f"{tmp_path / 'last-card.png'}: this file cannot be written (it is no plain file); name "
        "another"
    )


# Ports


class Ports:
    """Stands for the machine's MIDI inputs."""

    trouble = None
    there = ()

    def __init__(self, wake, preferred=None):
        self.preferred = preferred

    def port_names(self):
        return [Port(*port, why=f"last used: {self.preferred}") for port in self.there]

    def close(self):
        pass


def ports(monkeypatch, tmp_path, capsys, *there, trouble=None):
    monkeypatch.setattr("drills.piano.Piano", Ports)
    monkeypatch.setattr(Ports, "there", there)
    monkeypatch.setattr(Ports, "trouble", trouble)
    assert main(["ports", "--studio", str(tmp_path)]) == 0
    return capsys.readouterr().out.splitlines()


def test_each_port_is_listed_with_what_becomes_of_it(monkeypatch, tmp_path, capsys):
    (tmp_path / "pianos.json").write_text('{"stage": 0, "upright": 12}')
    said = ports(monkeypatch, tmp_path, capsys, ("Upright 20:0", True), ("Through", False))
    assert said == ["Upright 20:0: last used: upright", "Through: last used: upright"]


def test_where_no_piano_is_connected_it_says_how_to_go_on(monkeypatch, tmp_path, capsys):
    said = ports(monkeypatch, tmp_path, capsys, ("Through", False))
    assert said[1:] == [
        "No piano is connected. Switch one on and plug in its USB cable. Without a piano, practise "
        "with the keyboard on the screen."
    ]


def test_where_midi_does_not_work_it_says_why(monkeypatch, tmp_path, capsys):
    said = ports(monkeypatch, tmp_path, capsys, trouble="MIDI is asleep.")
    assert said == ["MIDI is asleep. Without a piano, practise with the keyboard on the screen."]


# What it runs on


def installed_on(python):
    """What pip chooses for that Python, by the environment markers of PEP 508."""
    chosen = (Requirement(line) for line in PROJECT["dependencies"])
    environment = {"python_version": python}
    return {each.name for each in chosen if not each.marker or each.marker.evaluate(environment)}


def test_the_pythons_it_is_installed_on_are_those_that_all_else_has_wheels_for():
    bounds = SpecifierSet(PROJECT["requires-python"])
    versions = ["3.10.14", "3.11.0", "3.12.9", "3.13.0", "3.14.0", "3.15.0"]
    assert [version in bounds for version in versions] == [False, True, True, True, True, False]


@pytest.mark.parametrize(
    ("python", "window", "rtmidi"),
    # Wheels on the package index when this was written: python-rtmidi 1.5.8 for CPython 3.8 to
    # 3.12, pygame 2.6.1 for 3.6 to 3.13, pygame-ce 2.5.8 for 3.10 to 3.14.
    [("3.11", "pygame", True), ("3.12", "pygame", True), ("3.13", "pygame", False),
     ("3.14", "pygame-ce", False)],
)  # fmt: skip
def test_each_python_gets_the_one_window_library_and_the_midi_library_it_has_wheels_for(
    python, window, rtmidi
):
    names = installed_on(python)
    assert names & {"pygame", "pygame-ce"} == {window}
    assert ("python-rtmidi" in names) == rtmidi
