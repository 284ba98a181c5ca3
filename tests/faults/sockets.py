"""No command opens a connection: each is run with every use of a socket forbidden.

Python tells an audit hook of each socket that is made, connected or looked up (PEP 578; the
table of audit events in Python's documentation). What C libraries open is seen by strace: the X
server and JACK are reached through AF_UNIX, which does not leave the machine.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

_FORBIDDEN = """
import sys
def forbid(event, arguments):
    if event.startswith("socket."):
        print("SOCKET", event, arguments, file=sys.stderr, flush=True)
        raise PermissionError(event)
sys.addaudithook(forbid)
from drills.commands import main
sys.exit(main())
"""
_FAMILY = re.compile(r"\b(?:AF|PF)_(\w+)")


def commands(folder: Path) -> list[list[str]]:
    """Give the words of one run of every command that needs no window."""
    studio, demonstration = str(folder / "studio"), str(folder / "demonstration")
    of_studio = ["--studio", studio]
    return [
        ["demonstrate", "--headless", "--folder", demonstration, "--seed", "1"],
        ["gather", demonstration, *of_studio],
        ["review", *of_studio],
        ["review", *of_studio, "--pupil", "Demo", "--page", str(folder / "page.html"),
         "--sheet", str(folder / "sheet.html"), "--csv", str(folder / "table.csv"),
         "--json", str(folder / "all.json")],
        ["ports", *of_studio],
        ["export", "Demo", str(folder / "demo.zip"), *of_studio],
        ["forget", "Demo", "--yes", *of_studio],
        ["benchmark", "--help"],
    ]  # fmt: skip


def run_without_sockets(words: list[str]) -> subprocess.CompletedProcess[str]:
    """Run a command in which any use of a socket is an error, and is told as "SOCKET"."""
    return subprocess.run(
        [sys.executable, "-c", _FORBIDDEN, *words], capture_output=True, text=True, check=False
    )


def traced(trace: Path) -> list[str]:
    """Give the words that put strace before a command, for its network calls into `trace`."""
    return ["strace", "-f", "-qq", "-e", "trace=socket,connect,bind,sendto", "-o", str(trace)]


def families(trace: Path) -> Counter[str]:
    """Count the address families that a trace names: UNIX, INET, INET6 and so on."""
    return Counter(_FAMILY.findall(trace.read_text(errors="replace")))
