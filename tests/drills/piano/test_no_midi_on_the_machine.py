"""A machine without a MIDI system is an everyday state: no piano, one sentence, no noise."""

import os
import subprocess
import sys

import pytest

from drills.piano import Piano
from drills.piano.piano import RETRY_EVERY
from tests.machine import HAS_RTMIDI

needs_rtmidi = pytest.mark.skipif(not HAS_RTMIDI, reason="no python-rtmidi for this Python")


@pytest.fixture
def trouble(monkeypatch):
    def with_backend(name, **environment):
        monkeypatch.setenv("MIDO_BACKEND", name)
        for variable, value in environment.items():
            monkeypatch.setenv(variable, value)
        piano = Piano(lambda: None)
        assert piano.poll(0) == []
        assert piano.poll(RETRY_EVERY) == []
        assert piano.port_names() == []
        assert piano.name is None
        piano.close()
        return piano.trouble

    return with_backend


@needs_rtmidi
def test_no_jack_server(trouble):
    sentence = trouble("mido.backends.rtmidi/UNIX_JACK", JACK_DEFAULT_SERVER="there-is-none")
    assert sentence.startswith("No MIDI system answers on this computer")


def test_a_backend_that_is_not_installed(trouble):
    sentence = trouble("no_such_backend")
    assert "no_such_backend" in sentence
    assert "MIDO_BACKEND" in sentence


@needs_rtmidi
def test_an_interface_that_rtmidi_does_not_know(trouble):
    sentence = trouble("mido.backends.rtmidi/STRING_AND_TIN")
    assert "STRING_AND_TIN" in sentence
    assert "MIDO_BACKEND" in sentence


def test_python_rtmidi_is_missing(trouble, monkeypatch):
    monkeypatch.setitem(sys.modules, "rtmidi", None)
    assert "python-rtmidi" in trouble("mido.backends.rtmidi")


def test_the_system_libraries_write_nothing_to_the_terminal():
    program = (
        "from drills.piano import Piano\n"
        "piano = Piano(lambda: None)\n"
        "piano.poll(0); piano.poll(10**11); print(piano.trouble is not None); piano.close()\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", program],
        env={
            **os.environ,
            "MIDO_BACKEND": "mido.backends.rtmidi/UNIX_JACK",
            "JACK_DEFAULT_SERVER": "there-is-none",
            "PYTHONPATH": os.pathsep.join(sys.path),
        },
        capture_output=True,
        text=True,
        check=True,
    )
    assert (run.stdout, run.stderr) == ("True\n", "")


def test_the_package_loads_no_midi_library_until_it_is_asked():
    program = (
        "import sys; import drills.piano; drills.piano.Piano(lambda: None)\n"
        "print(sorted({'mido', 'rtmidi', 'pygame'} & set(sys.modules)))\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", program],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stdout == "[]\n"
