"""Words are spoken by the voice of the machine, never waited for, and cut short by later ones."""

import os
import shutil
import subprocess
import sys
import time
import wave

import pytest

from drills.window.speech import Speaker, pronounced, speaker, voice_here
from tests.voice import Voice

LONG = 30
"""Seconds that a voice would go on for."""


def ended(pid):
    deadline = time.monotonic() + 20
    while time.monotonic() < deadline:
        try:
            os.kill(int(pid), 0)
        except ProcessLookupError:
            return True
        time.sleep(0.01)
    return False


@pytest.fixture
def long_voice(tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("PATH", str(tmp_path))
    return Voice(tmp_path, LONG)


def test_words_reach_the_voice_as_they_are_whatever_stands_in_them(long_voice):
    said = speaker()
    said.say('treble G; $(touch x) "quoted" | é')
    said_words = "|".join(long_voice.wait_for(1)[0][2:])
    assert said_words == 'treble G; $(touch x) "quoted" | é'
    said.close()


def test_what_is_said_later_silences_what_was_said_before(long_voice):
    said = speaker()
    said.say("1 step above")
    first = long_voice.wait_for(1)[0]
    said.say("treble G")
    assert long_voice.wait_for(2)[1][2] == "treble G"
    assert ended(first[0])
    said.close()


def test_nobody_waits_for_a_voice(long_voice):
    said = speaker()
    started = time.monotonic()
    for number in range(200):
        said.say(f"{number} steps above")
    assert time.monotonic() - started < LONG
    deadline = time.monotonic() + 20
    while long_voice.wait_for(1)[-1][2] != "199 steps above":
        assert time.monotonic() < deadline
    assert len(long_voice.lines()) < 200
    said.close()


def test_closing_falls_silent_in_the_middle_of_a_word(long_voice):
    said = speaker()
    said.say("treble G")
    pid = long_voice.wait_for(1)[0][0]
    said.close()
    assert ended(pid)


def test_a_machine_without_a_voice_has_no_speaker(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    assert voice_here() is None
    assert speaker() is None


def test_a_voice_that_cannot_be_started_or_ends_at_once_is_silence_and_no_error(tmp_path):
    for command in ((str(tmp_path / "nowhere"),), ("false",), ("true",)):
        said = Speaker(command)
        said.say("treble G")
        said.say("treble A" * 100_000)
        said.close()


def test_the_voice_speaks_the_language_of_the_words(long_voice, monkeypatch):
    monkeypatch.setattr("drills.window.speech.language", lambda: "de")
    said = speaker()
    said.say("Violinschlüssel g")
    arguments = long_voice.wait_for(1)[0][1].split()
    assert arguments[arguments.index("-v") + 1] == "de"
    said.close()


@pytest.mark.parametrize(
    ("platform", "program"), [("darwin", "say"), ("win32", "powershell"), ("linux", "espeak")]
)
def test_each_system_has_its_own_voice(tmp_path, monkeypatch, platform, program):
    monkeypatch.setattr(sys, "platform", platform)
    monkeypatch.setattr(shutil, "which", lambda name: f"/bin/{name}" if name == program else None)
    assert voice_here()[0] == f"/bin/{program}"


@pytest.mark.parametrize(
    ("words", "heard"),
    [
        ("you played F♯", "you played F sharp"),
        ("B♭, 2 steps above", "B flat, 2 steps above"),
        ("treble G", "treble G"),
    ],
)
def test_signs_of_music_are_spoken_by_their_names(words, heard):
    assert pronounced(words) == heard


# An independent judge: eSpeak NG itself, writing what it would speak to a sound file (RIFF WAVE).
@pytest.mark.skipif(
    not shutil.which("espeak-ng") and "LANDMARK_DRILLS_ALL_TESTS" not in os.environ,
    reason="espeak-ng is not installed",
)
def test_a_real_voice_takes_the_words(tmp_path):
    lengths = []
    for words in ("G", "bass C, 2 steps above, you played F♯"):
        path = tmp_path / "spoken.wav"
        command = [*voice_here(), "-w", str(path)]
        subprocess.run(command, input=pronounced(words).encode(), check=True, timeout=20)
        with wave.open(str(path)) as sound:
            lengths.append(sound.getnframes() / sound.getframerate())
    assert 0.1 < lengths[0] < lengths[1] < 10
