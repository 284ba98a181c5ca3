"""The shortcut, held against the rules of the desktops that read it."""

from __future__ import annotations

import configparser
import os
import plistlib
import re
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills import __version__
from drills.app.shortcut import desktop_command, shortcut_of, start_command
from drills.commands import main

HOME = Path("/home/somebody")
COMMAND = ("/opt/a b/python", "-c", "print('100 %')")


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr(sys, "platform", "linux")
    return tmp_path


def arguments_of(value):
    """Read a value of the key Exec as a desktop does.

    Desktop Entry Specification 1.5, "Possible value types": \\\\ stands for a backslash; "The Exec
    key": within double quotes a backslash stands before ", `, $ and itself, and %% is a percent.
    """
    told = re.sub(r"\\(.)", lambda found: {"\\": "\\"}[found[1]], value)
    quoted = re.findall(r'"((?:[^"\\`$]|\\["`$\\])*)"', told)
    assert " ".join(f'"{each}"' for each in quoted) == told
    plain = [re.sub(r"\\(.)", r"\1", each) for each in quoted]
    assert not any(re.search(r"(?<!%)%(?:%%)*(?!%)", each) for each in plain)
    return [each.replace("%%", "%") for each in plain]


@given(st.lists(st.text(st.characters(exclude_categories=["C", "Z"])), min_size=1))
def test_every_argument_arrives_as_it_was_given(command):
    assert arguments_of(desktop_command(command)) == command


def test_a_desktop_finds_the_entry_and_its_icon_and_can_remove_them(home, capsys):
    assert main(["shortcut"]) == 0
    entry = home / "applications" / "landmark-drills.desktop"
    assert capsys.readouterr().out == f"{entry}\n"
    told = configparser.RawConfigParser()
    told.optionxform = str
    told.read(entry, "utf-8")
    group = told["Desktop Entry"]
    # The keys that the specification requires of an application, and registered categories.
    assert (group["Type"], group["Name"], group["Terminal"]) == (
        "Application", "Landmark drills", "false",
    )  # fmt: skip
    assert group["Categories"] == "Education;Music;"
    assert arguments_of(group["Exec"]) == list(start_command())
    icon = home / "icons" / "hicolor" / "scalable" / "apps" / f"{group['Icon']}.svg"
    assert icon.read_text("utf-8").lstrip().startswith(("<svg", "<?xml"))
    assert main(["shortcut", "--remove"]) == 0
    assert not entry.exists()
    assert not icon.exists()
    capsys.readouterr()
    assert main(["shortcut", "--remove"]) == 1
    assert capsys.readouterr().out == "There was nothing to remove.\n"


def test_what_the_shortcut_starts_is_this_program():
    command = [*start_command(), "--version"]
    root = Path(__file__).parents[3]
    ended = subprocess.run(
        command, capture_output=True, text=True, check=True, cwd="/",
        env=os.environ | {"PYTHONPATH": str(root)},
    )  # fmt: skip
    assert ended.stdout == f"landmark-drills {__version__}\n"


def test_a_mac_gets_an_application_that_runs_a_script():
    made = shortcut_of("darwin", {}, HOME, COMMAND)
    contents = HOME / "Applications" / "Landmark drills.app" / "Contents"
    about = plistlib.loads(made.files[contents / "Info.plist"])
    script = made.files[contents / "MacOS" / about["CFBundleExecutable"]].decode()
    echoed = script.replace("exec ", "printf '%s|' ")
    ended = subprocess.run(["sh"], input=echoed, capture_output=True, text=True, check=True)
    assert ended.stdout.split("|")[:-1] == list(COMMAND)
    assert made.files[contents / "Resources" / about["CFBundleIconFile"]][:4] == b"icns"


def test_windows_gets_a_link_whose_names_may_hold_an_apostrophe():
    made = shortcut_of("win32", {"APPDATA": "/Users/O'Neil"}, HOME, COMMAND)
    assert made.path.name == "Landmark drills.lnk"
    (icon,) = made.files.values()
    assert icon[:4] == b"\x00\x00\x01\x00"
    # A single-quoted string ends at a quote that is not doubled (PowerShell, about_Quoting_Rules).
    strings = re.findall(r"'((?:[^']|'')*)'", made.script)
    assert [each.replace("''", "'") for each in strings][:2] == [str(made.path), COMMAND[0]]
