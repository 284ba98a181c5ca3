"""Words spoken by the voice that the machine has, without ever being waited for.

A voice is a program that reads words (UTF-8) and speaks them until it is ended. One that hands
them on to a service cannot be silenced by ending it, and is not used.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Mapping, Sequence
from contextlib import suppress
from queue import SimpleQueue
from threading import Thread
from types import MappingProxyType

from landmarks.translation import _, gettext_noop, language

_ESPEAK = ("-b", "1", "-s", "140", "-v", "{language}", "--stdin")
"""UTF-8, 140 words a minute (a little slower than usual: common practice, no source)."""
_WINDOWS = (
    "[Console]::InputEncoding = [Text.Encoding]::UTF8; Add-Type -AssemblyName System.Speech; "
    "(New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak([Console]::In.ReadToEnd())"
)
_VOICES: Mapping[str, Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "darwin": {"say": ()},
        "win32": {"powershell": ("-NoProfile", "-NonInteractive", "-Command", _WINDOWS)},
    }
)
_OTHER_VOICES = {"espeak-ng": _ESPEAK, "espeak": _ESPEAK}
"""Programs and their arguments, by `sys.platform`; the first one there is speaks."""

_SIGNS = {
    "♯": gettext_noop(" sharp"),
    "♭": gettext_noop(" flat"),
    "♮": gettext_noop(" natural"),
    "𝄪": gettext_noop(" double sharp"),
    "𝄫": gettext_noop(" double flat"),
    "×": gettext_noop(" times "),
    "…": " ",
}
_SILENCE_WITHIN = 2.0
"""How long a voice is waited for to end, in seconds, when the program closes."""


def voice_here() -> tuple[str, ...] | None:
    """Return the command line of the voice that this machine has, or None."""
    for program, arguments in _VOICES.get(sys.platform, _OTHER_VOICES).items():
        found = shutil.which(program)
        if found is not None:
            return found, *(argument.format(language=language()) for argument in arguments)
    return None


def speaker() -> Speaker | None:
    """Return somebody who speaks, or None where the machine has no voice."""
    voice = voice_here()
    return None if voice is None else Speaker(voice)


def pronounced(words: str) -> str:
    """Return words as a voice can read them: signs of music by their names."""
    for sign, name in _SIGNS.items():
        words = words.replace(sign, _(name))
    return words


class Speaker:
    """Speaks; what is said later silences what was said before."""

    def __init__(self, voice: Sequence[str]) -> None:
        """Speak with a voice: a command line that reads words."""
        self._voice = tuple(voice)
        self._said: SimpleQueue[str | None] = SimpleQueue()
        self._speaking: subprocess.Popen[bytes] | None = None
        self._thread = Thread(target=self._speak, name="voice", daemon=True)
        self._thread.start()

    def say(self, words: str) -> None:
        """Speak words instead of what is being spoken; returns at once."""
        self._said.put(pronounced(words))

    def close(self) -> None:
        """Fall silent for good."""
        self._said.put(None)
        self._thread.join(_SILENCE_WITHIN)

    def _speak(self) -> None:
        while (words := self._latest()) is not None:
            self._silence()
            self._begin(words)
        self._silence()

    def _latest(self) -> str | None:
        """Wait for words; pass over those that are superseded already."""
        words = self._said.get()
        while words is not None and not self._said.empty():
            words = self._said.get()
        return words

    def _begin(self, words: str) -> None:
        """Start the voice. One that cannot be started stays silent: nothing hangs on it."""
        with suppress(OSError):
            self._speaking = subprocess.Popen(
                self._voice, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )  # fmt: skip
            assert self._speaking.stdin is not None
            with self._speaking.stdin as said:
                said.write(words.encode())

    def _silence(self) -> None:
        if self._speaking is not None:
            self._speaking.kill()
            self._speaking.wait()
            self._speaking = None
