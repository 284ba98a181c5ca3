"""Fixtures for real MIDI and a real window, and no deadline for any law.

Where a server is not installed the test is skipped with a sentence, or fails if the environment
has LANDMARK_DRILLS_ALL_TESTS=1.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from itertools import count

import pytest
from hypothesis import settings

from tests.chromium import Page, chromium
from tests.machine import (
    MissingError,
    NotForThisPythonError,
    ScriptedPiano,
    jack_server,
    require,
    x_server,
)

# No test fails for being slow on a busy machine; timed figures live in the benches.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

_numbers = count()


def _skip_or_fail(missing: MissingError) -> None:
    needed = not isinstance(missing, NotForThisPythonError)
    if needed and os.environ.get("LANDMARK_DRILLS_ALL_TESTS") == "1":
        pytest.fail(str(missing))
    pytest.skip(str(missing))


@pytest.fixture(scope="session")
def jack() -> Iterator[dict[str, str]]:
    """A JACK server of our own, and mido set to use it; gives the environment for programs."""
    with ExitStack() as stack:
        try:
            environment = stack.enter_context(jack_server())
        except MissingError as missing:
            _skip_or_fail(missing)
        yield environment


@pytest.fixture
def new_piano(jack: dict[str, str]) -> Iterator[Callable[..., ScriptedPiano]]:
    """Plugs in further scripted pianos: `new_piano()`, or `new_piano(name)` for a name again."""
    with ExitStack() as stack:

        def plug_in(client: str | None = None) -> ScriptedPiano:
            piano = ScriptedPiano(client or f"scripted-{os.getpid()}-{next(_numbers)}")
            stack.callback(piano.close)
            return piano

        yield plug_in


@pytest.fixture
def scripted_piano(new_piano: Callable[..., ScriptedPiano]) -> ScriptedPiano:
    """A scripted piano that is plugged in."""
    return new_piano()


@pytest.fixture
def xdotool(screen: str) -> Callable[..., None]:
    """Moves the mouse and presses computer keys on that X server."""
    try:
        require("xdotool", "xdotool")
    except MissingError as missing:
        _skip_or_fail(missing)

    def move(*words: object) -> None:
        subprocess.run(["xdotool", *map(str, words)], check=True)

    return move


@pytest.fixture
def screen(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """An X server for this test, and DISPLAY set to it.

    1024 by 768, or as in `@pytest.mark.parametrize("screen", [(1920, 1080)], indirect=True)`.
    """
    with ExitStack() as stack:
        try:
            display = stack.enter_context(x_server(*getattr(request, "param", (1024, 768))))
        except MissingError as missing:
            _skip_or_fail(missing)
        monkeypatch.setenv("DISPLAY", display)
        monkeypatch.setenv("SDL_VIDEODRIVER", "x11")
        yield display


@pytest.fixture(scope="session")
def browser() -> Iterator[Page]:
    """A tab of a headless Chromium."""
    with ExitStack() as stack:
        try:
            page = stack.enter_context(chromium())
        except MissingError as missing:
            _skip_or_fail(missing)
        yield page
