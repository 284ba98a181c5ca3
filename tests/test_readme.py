"""The README keeps to its length and to what is there."""

import re
import tomllib
from pathlib import Path

from drills.commands import _COMMANDS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"```sh\n(.*?)\n```", README, re.DOTALL)
LONGEST = 900
"""Words: what a newcomer reads before she starts."""


def test_it_can_be_read_before_starting():
    assert len(README.split()) <= LONGEST


def test_one_command_installs_and_starts_and_one_installs_and_tests():
    assert BLOCKS[:2] == [
        "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/landmark-drills",
        "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/pytest",
    ]


def test_it_names_the_pythons_that_it_installs_on():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["requires-python"] == ">=3.11,<3.15"
    assert "Python** 3.11 to 3.14" in README


def test_every_file_that_it_shows_or_leads_to_is_there():
    for target in re.findall(r"\]\(([^)]+)\)", README):
        assert (ROOT / target).exists(), target
    for path in (".ci/apt-packages", ".bundle/build"):
        assert path in README
        assert (ROOT / path).exists()


def test_every_command_that_it_names_is_one():
    named = re.findall(r"`landmark-drills ([a-z-]+)", README)
    assert {name for name in named if not name.startswith("-")} <= set(_COMMANDS)


def test_the_list_of_system_packages_is_in_one_place():
    packages = (ROOT / ".ci" / "apt-packages").read_text().split()
    assert packages == sorted(packages)
    for path in (ROOT / "README.md", ROOT / ".ci" / "run"):
        assert not set(re.findall(r"[\w-]+", path.read_text("utf-8"))) & set(packages) - {
            "python3-venv"}  # fmt: skip


def test_the_cautions_are_kept():
    for words in ("nickname", "Nothing is sent", "local rules", "headphones", "Look away", "hurt"):
        assert words in README
