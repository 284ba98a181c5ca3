"""A scripted tapper is listened to in the real window, over real MIDI."""

from __future__ import annotations

import itertools
import threading
import time
from statistics import stdev

import pytest

from drills.app.session_clock import SessionClock
from drills.learning.prior_knowledge.finding import Band, Item
from drills.sessions.events import Begin, OnScreen
from drills.sessions.listening.listening import Listening
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.studio import Studio
from drills.window.pages.first_page import FirstPage
from drills.window.pages.listening_scene import ListeningScene
from drills.window.pages.marks import marks_of
from drills.window.pages.teacher_page import TeacherPage
from drills.window.teacher_scenes import prior_knowledge_scene
from tests.landmarks.tappers import chance_of, go_on
from tests.scripted_drill import FIVE
from tests.window.program import until
from tests.window.test_first_page_in_the_window import click, home, start

__all__ = ["click", "home", "start"]


class Silence:
    """No loudspeaker."""

    def prepare(self, key):
        """Nothing to make ready."""

    def play(self, key):
        """Nothing sounds."""


def listening_scene():
    """The scene as it stands in the window at first, to find its buttons."""
    session = Listening(1)
    session.handle(Begin(), 0)
    session.handle(OnScreen(session.view.showing), 1)
    return ListeningScene("Robin", session, SessionClock(), print, Silence(), None)


@pytest.fixture
def listened(start, click, home):
    """Robin's page of listening, open in the window."""
    pupil = Studio(home / "studio").pupil("Robin")
    marks = marks_of({"Robin": ""})
    program = start("Robin")
    click(FirstPage(marks), "teacher")
    click(TeacherPage(marks, "Robin", None), "beginnings")
    page = prior_knowledge_scene(pupil, FIVE, SessionClock().now, listens=True)
    click(page, "two minutes of listening")
    program.wait_for("listen", item="pulse")
    return program, pupil


def tap_at(piano, times, key):
    """Press a key at monotonic times in seconds; give when each was sent."""
    sent = []
    for at in times:
        time.sleep(max(0.0, at - time.monotonic()))
        sent.append(piano.press(key) / 1e9)
        threading.Timer(0.06, piano.release, (key,)).start()
    return sent


def test_a_pulse_is_heard_as_evenly_as_it_was_tapped(listened, click, xdotool, scripted_piano):
    program, pupil = listened
    beats = [time.monotonic() + 1 + 0.6 * number for number in range(8)]
    taps = [
        tap / 1000
        for tap in go_on([1000 * at for at in beats], 17, chance_of(2), clock=0.05, delay=0.01)
    ]
    tap_at(scripted_piano, beats, 40)
    sent = tap_at(scripted_piano, taps, 67)
    heard = program.wait_for("heard", item="pulse")
    gaps = [1000 * (later - earlier) for earlier, later in itertools.pairwise(sent)]
    figures = heard["figures"]
    assert figures["taps"] == 16
    assert figures["interval_ms"] == pytest.approx(sum(gaps) / 16, abs=1)
    assert figures["spread"] == pytest.approx(stdev(gaps) / (sum(gaps) / 16), abs=0.02)
    time.sleep(0.6)
    until(lambda: (kept := observations_of(pupil)) and kept.latest_heard("pulse"))
    found = observations_of(pupil)
    assert found.latest_heard("pulse").finding.item is Item.PULSE
    assert found.answers() == {}
    xdotool("key", "--delay", "100", "Left", "Left", "Left", "Return")
    deadline = time.monotonic() + 10
    while not (told := observations_of(pupil)).answers() and time.monotonic() < deadline:
        time.sleep(0.1)
    assert told.answer("pulse") == "yes"
    assert told.answers()["pulse"].heard == told.heard[-1].at
    program.close()


def test_beats_sound_and_an_echo_and_moves_are_heard(listened, click, scripted_piano):
    program, pupil = listened
    click(listening_scene(), "sound")
    tones = [program.wait_for("tone")["t"] for _ in range(8)]
    gaps = [later - earlier for earlier, later in itertools.pairwise(tones)]
    assert gaps == pytest.approx([650] * 7, abs=0.01)
    click(listening_scene(), "next")
    program.wait_for("listen", item="echo")
    rhythm = [0, 0.6, 0.9, 1.2, 1.8]
    start = time.monotonic() + 0.5
    tap_at(scripted_piano, [start + at for at in rhythm], 48)
    time.sleep(2.2)
    start = time.monotonic() + 0.3
    tap_at(scripted_piano, [start + 0.8 * at for at in rhythm], 72)
    heard = program.wait_for("heard", item="echo")
    assert (heard["band"], heard["figures"]["kept"]) == (Band.THERE, 4)
    assert heard["figures"]["tempo"] == pytest.approx(0.8, abs=0.03)
    # What was heard is kept a moment after the session's own line of it.
    until(lambda: (kept := observations_of(pupil)) and kept.latest_heard("clap-back"))
    program.close()
