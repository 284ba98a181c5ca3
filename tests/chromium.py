"""A headless Chromium that is driven through its own pipe, to look at pages as readers do."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.machine import MissingError

NAMES = ("chromium", "chromium-browser", "google-chrome")
_OPTIONS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--remote-debugging-pipe",
)  # fmt: skip


class Page:
    """One tab. Commands are those of the Chrome DevTools Protocol."""

    def __init__(self, to_browser: int, from_browser: int) -> None:
        """Open a tab over the pipe's two ends."""
        self._to, self._from = to_browser, from_browser
        self._number = 0
        self._session: str | None = None
        self.requests: list[str] = []
        """The addresses that were asked for since the last `open`."""
        target = self.command("Target.createTarget", url="about:blank")["targetId"]
        attached = self.command("Target.attachToTarget", targetId=target, flatten=True)
        self._session = attached["sessionId"]
        for domain in ("Page", "Network", "Accessibility"):
            self.command(f"{domain}.enable")

    def open(self, path: Path, width: int, height: int = 900) -> None:
        """Load a file at a width in CSS pixels."""
        self.command(
            "Emulation.setDeviceMetricsOverride",
            width=width, height=height, deviceScaleFactor=1, mobile=False,
        )  # fmt: skip
        self.requests.clear()
        self.command("Page.navigate", url=path.as_uri())
        while self.evaluate("document.readyState") != "complete":
            pass

    def print_as_seen(self) -> None:
        """Lay the page out as it is printed."""
        self.command("Emulation.setEmulatedMedia", media="print")

    def show_as_seen(self) -> None:
        """Lay the page out as it is shown on a screen."""
        self.command("Emulation.setEmulatedMedia", media="")

    def evaluate(self, expression: str) -> Any:
        """Give the value of a JavaScript expression in the page."""
        found = self.command("Runtime.evaluate", expression=expression, returnByValue=True)
        if "exceptionDetails" in found:
            raise AssertionError(found["exceptionDetails"])
        return found["result"].get("value")

    def command(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Send a command and wait for its answer."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._to, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._receive()
            if answer.get("method") == "Network.requestWillBeSent":
                self.requests.append(answer["params"]["request"]["url"])
            if answer.get("id") == self._number:
                if "error" in answer:
                    raise AssertionError(answer["error"])
                found: dict[str, Any] = answer["result"]
                return found

    _buffer = b""

    def _receive(self) -> dict[str, Any]:
        while b"\0" not in self._buffer:
            read = os.read(self._from, 1 << 16)
            if not read:
                raise AssertionError("Chromium has gone")
            self._buffer += read
        text, _, self._buffer = self._buffer.partition(b"\0")
        message: dict[str, Any] = json.loads(text)
        return message


@contextmanager
def chromium() -> Iterator[Page]:
    """Run a headless Chromium and give its one tab. MissingError where there is none."""
    program = next(filter(None, map(shutil.which, NAMES)), None)
    if program is None:
        raise MissingError("no Chromium is installed (Debian package chromium)")
    # The browser reads commands from descriptor 3 and writes answers to 4.
    to_read, to_write = os.pipe()
    from_read, from_write = os.pipe()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        command = [
            "bash", "-c", f'exec "$@" 3<&{to_read} 4>&{from_write}', "bash",
            program, *_OPTIONS, f"--user-data-dir={folder}",
        ]  # fmt: skip
        process = subprocess.Popen(
            command, pass_fds=(to_read, from_write),
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(to_read)
        os.close(from_write)
        try:
            yield Page(to_write, from_read)
        finally:
            process.terminate()
            process.wait(20)
            os.close(to_write)
            os.close(from_read)
