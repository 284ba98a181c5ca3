"""The servers of the test set-up themselves."""

import subprocess
import sys

import pytest

from tests.machine import MissingError, x_server

SIZE_OF_THE_SCREEN = (
    "import pygame; pygame.display.init(); print(pygame.display.get_driver(),"
    " *pygame.display.get_desktop_sizes()[0])"
)


def shown():
    run = subprocess.run(
        [sys.executable, "-c", SIZE_OF_THE_SCREEN], capture_output=True, text=True, check=True
    )
    return run.stdout.splitlines()[-1]


def test_a_window_opens_on_the_screen_of_the_tests(screen):
    assert shown() == "x11 1024 768"


@pytest.mark.parametrize("screen", [(1920, 1080)], indirect=True)
def test_the_screen_can_have_another_size(screen):
    assert shown() == "x11 1920 1080"


def test_a_missing_server_is_named(monkeypatch):
    monkeypatch.setenv("PATH", "")
    with pytest.raises(MissingError, match="Xvfb is not installed"), x_server():
        pass
