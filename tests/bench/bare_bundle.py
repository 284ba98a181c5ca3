"""The bundle where there is nothing but it: no Python, no network, another user, read-only.

    python -m tests.bench.bare_bundle dist/landmark-drills ROOT      (as root)

ROOT is a freshly made minimal system, as `debootstrap --variant=minbase bookworm ROOT` makes it.
The bundle is mounted there read-only and run as a user without a home, whose only writable folder
is shared with the X server, the JACK server and the scripted piano outside. The piano answers
every card of a session; then a review page and the guide are written, in German.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from multiprocessing import Pipe, get_context
from multiprocessing.connection import Connection
from pathlib import Path

from tests.machine import ScriptedPiano, require

USER = 65534
"""Nobody, on Debian."""
CARDS = 8
PATIENCE = 60
ALONE = "LANDMARK_DRILLS_ALONE"
"""Set once the bench has a mount namespace of its own."""
JACK = "landmark-bare"
PLACE = "opt/landmark-drills"
CHROOT = shutil.which("chroot") or "/usr/sbin/chroot"


def play(orders: Connection) -> None:
    """Be the piano, as the user whom the JACK server belongs to, until the cable is pulled."""
    os.setgid(USER)
    os.setuid(USER)
    piano = ScriptedPiano("bare-piano")
    while (key := orders.recv()) is not None:
        piano.press(key)
        time.sleep(0.09)
        piano.release(key)
    piano.close()


@contextmanager
def mounted(root: Path, bundle: Path, shared: Path) -> Iterator[None]:
    """Mount what the bundle needs in the bare system; take it away again."""
    mounts = [
        (bundle, root / PLACE), (shared, root / "tmp"), (Path("/dev"), root / "dev"),
        (Path("/dev/shm"), root / "dev" / "shm"), (Path("/proc"), root / "proc"),
    ]  # fmt: skip
    with ExitStack() as stack:
        for source, target in mounts:
            target.mkdir(parents=True, exist_ok=True)
            run("mount", "--bind", source, target)
            stack.callback(run, "umount", target)
        run("mount", "-o", "remount,bind,ro", root / PLACE)
        yield


def run(*command: object) -> None:
    """Run a command that must not fail."""
    subprocess.run([str(word) for word in command], check=True)


class Bare:
    """The bare system; every command in it runs without network and as another user."""

    def __init__(self, root: Path, display: str) -> None:
        self._root = root
        self._environment = {
            "HOME": "/nonexistent", "PATH": "/usr/bin:/bin", "DISPLAY": display,
            "XDG_DATA_HOME": "/tmp/data", "LANG": "C.UTF-8", "JACK_DEFAULT_SERVER": JACK,
            "MIDO_BACKEND": "mido.backends.rtmidi/UNIX_JACK",
        }  # fmt: skip

    def start(self, *command: str) -> subprocess.Popen[str]:
        """Start a command in it."""
        return subprocess.Popen(
            ["unshare", "--net", CHROOT, f"--userspec={USER}:{USER}", str(self._root), *command],
            env=self._environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        )  # fmt: skip

    def said(self, *command: str) -> str:
        """Run a command in it to its end; return what it printed, and its status."""
        process = self.start(*command)
        out, _ = process.communicate(timeout=PATIENCE)
        return f"{out.strip()} [{process.returncode}]"


def practise(bare: Bare, data: Path, piano: Connection) -> int:
    """Answer so many cards, right; return how many answers the session file holds."""
    program = bare.start(f"/{PLACE}/landmark-drills", "practise", "--pupil", "Robin", "--seed", "1")
    try:
        for answers in range(CARDS):
            piano.send(_next_card(data, program, answers))
    finally:
        time.sleep(2)
        program.terminate()
        print("practise:", program.communicate(timeout=PATIENCE)[0].strip(), program.returncode)
    return len([line for line in _lines(data) if line["event"] == "answer"])


def _next_card(data: Path, program: subprocess.Popen[str], answers: int) -> int:
    """Wait for the card that follows so many answers; return its key."""
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline and program.poll() is None:
        time.sleep(0.3)
        lines = _lines(data)
        told = [line for line in lines if line["event"] in ("card", "answer")]
        given = sum(line["event"] == "answer" for line in told)
        if told and told[-1]["event"] == "card" and given == answers:
            time.sleep(0.3)
            return int(told[-1]["target"])
    raise RuntimeError(f"no card came: {program.poll()}")


def _lines(data: Path) -> list[dict[str, object]]:
    paths = sorted(data.glob("*/*/sessions/*.jsonl"))
    if not paths:
        return []
    return [json.loads(line) for line in paths[-1].read_text().splitlines()[1:]]


def main() -> None:
    """Set everything up, and print what each step came to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("bundle", type=Path)
    parser.add_argument("root", type=Path)
    options = parser.parse_args()
    for program, package in (("jackd", "jackd2"), ("Xvfb", "xvfb"), ("unshare", "util-linux")):
        require(program, package)
    if os.environ.get(ALONE) is None:
        # What is mounted is seen by nobody else, and gone with this process.
        os.environ[ALONE] = "1"
        os.execvp("unshare", ["unshare", "--mount", sys.executable, "-m", __spec__.name,
                              *sys.argv[1:]])  # fmt: skip
    run("mount", "-t", "tmpfs", "-o", "mode=1777", "shm", "/dev/shm")
    with ExitStack() as stack:
        shared = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        shared.chmod(0o1777)
        (shared / "data").mkdir()
        (shared / ".X11-unix").mkdir()
        shutil.chown(shared / "data", USER, USER)
        stack.enter_context(mounted(options.root, options.bundle.resolve(), shared))
        display = _x_server(stack, options.root / "tmp" / ".X11-unix")
        _jack_server(stack)
        ours, theirs = Pipe()
        piano = get_context("fork").Process(target=play, args=(theirs,), daemon=True)
        piano.start()
        stack.callback(ours.send, None)
        bare, place = Bare(options.root, display), f"/{PLACE}/landmark-drills"
        print("python3 there:", bare.said("/bin/sh", "-c", "command -v python3 || echo no"))
        print("writable:", bare.said("/bin/sh", "-c", f"touch /{PLACE}/x 2>&1 || true"))
        print("network:", bare.said("/bin/sh", "-c", "cat /proc/net/dev | tail -n +3"))
        print("ports:", bare.said(place, "ports"))
        answers = practise(bare, shared / "data", ours)
        print(f"answers: {answers}")
        print("review:", bare.said(place, "--language", "de", "review", "--pupil", "Robin",
                                   "--page", "/tmp/data/review.html"))  # fmt: skip
        print("guide:", bare.said(place, "--language", "de", "guide", "--page",
                                  "/tmp/data/guide.html"))  # fmt: skip
        for page in ("review.html", "guide.html"):
            text = (shared / "data" / page).read_text("utf-8")
            german = 'lang="de"' in text
            print(f"{page}: {len(text)} characters, German: {german}")
        if answers < CARDS:
            sys.exit("a session could not be practised")


def _x_server(stack: ExitStack, seen: Path) -> str:
    """Start an X server whose socket is seen in that folder."""
    sockets = Path("/tmp/.X11-unix")
    number = next(n for n in range(70, 90) if not (sockets / f"X{n}").exists())
    process = subprocess.Popen(
        ["Xvfb", f":{number}", "-screen", "0", "1024x768x24", "-nolisten", "tcp", "-ac"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    stack.callback(process.wait)
    stack.callback(process.terminate)
    _wait_for(sockets / f"X{number}")
    run("mount", "--bind", sockets, seen)
    stack.callback(run, "umount", seen)
    return f":{number}"


def _wait_for(path: Path) -> None:
    deadline = time.monotonic() + PATIENCE
    while not path.exists():
        if time.monotonic() > deadline:
            raise RuntimeError(f"{path} does not come")
        time.sleep(0.1)


def _jack_server(stack: ExitStack) -> None:
    """Start a JACK server that belongs to the other user; its memory lies in /dev/shm."""
    os.environ |= {"JACK_DEFAULT_SERVER": JACK, "JACK_NO_AUDIO_RESERVATION": "1"}
    process = subprocess.Popen(
        ["jackd", "--name", JACK, "-S", "--no-realtime", "-d", "dummy", "-r", "48000", "-p", "64"],
        user=USER, group=USER, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    stack.callback(process.wait)
    stack.callback(process.terminate)
    _wait_for(Path(f"/dev/shm/jack_{JACK}_{USER}_0"))
    time.sleep(1)


if __name__ == "__main__":
    main()
