"""Whole uses: what a person brings, through every command that reads it, to the printed page.

A command may do its work (status 0), tell what could not be used (1), or refuse with a sentence
(2). A fault of the program, a sentence of several lines, a page that is no page, a control
character on the terminal, more time or more memory than `LONGEST` and `MOST_MEMORY`: each is told.
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
import random
import resource
import signal
import tempfile
import time
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from unittest import mock

from drills import commands
from drills.app.practice import practice_of
from drills.app.practice_context import practice_context
from drills.app.user_error import UserError
from drills.storage.studio import Studio
from tests.faults.odd_studio import NOW, StudioMaker
from tests.score_fuzz import ScoreMaker

LONGEST = 20
"""Seconds for one command on one small pupil, on a busy machine."""
LONGEST_SCORE = 60
"""Seconds for one that reads a score in a process of its own, which gives up by itself."""
MOST_MEMORY = 4 << 30
"""Bytes of address space, of which numerical libraries alone reserve one and a half."""


class TooLongError(BaseException):
    """A command did not end; no handler of the program may take it for its own."""


@dataclass
class Tried:
    """How often each use was tried, with which statuses, and what it did that it may not do."""

    uses: Counter[str] = field(default_factory=Counter)
    statuses: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    slowest: float = 0.0

    def add(self, other: Tried) -> None:
        """Count what another run tried."""
        self.uses += other.uses
        self.statuses += other.statuses
        self.faults += other.faults
        self.slowest = max(self.slowest, other.slowest)


def try_histories(seed: int, tried: Tried) -> None:
    """Make one odd studio and put it through every use of a history."""
    with tempfile.TemporaryDirectory() as folder:
        studio, out = Path(folder, "studio"), Path(folder, "out")
        out.mkdir()
        StudioMaker(seed).pupil(studio, "Robin")
        try_studio(studio, out, f"seed {seed}", tried)


def try_studio(studio: Path, out: Path, name: str, tried: Tried) -> None:
    """Put the pupil Robin of a studio through every use of a history."""
    pupil = ["--studio", str(studio), "--pupil", "Robin"]
    everyone = ["--studio", str(studio)]
    page, sheet = out / "page.html", out / "sheet.html"
    on = ["--on", NOW.date().isoformat()]
    packed, elsewhere = out / "robin.zip", ["--studio", str(out / "elsewhere")]
    for words in (
        ["review", *pupil], ["review", *pupil, *on, "--page", str(page)],
        ["review", *pupil, *on, "--sheet", str(sheet)], ["review", *everyone, *on],
        ["review", *everyone, "--page", str(out / "studio.html")],
        ["review", *everyone, "--csv", str(out / "table.csv")],
        ["review", *everyone, "--json", str(out / "table.json")],
        ["handout", *pupil, "--seed", "1", str(out / "handout.html")],
        ["beginnings", *pupil, "--list"], ["settings", *pupil, "--list"],
        ["export", *everyone, "Robin", str(packed)], ["gather", *elsewhere, str(packed)],
        ["gather", *elsewhere, str(studio)], ["review", *elsewhere],
    ):  # fmt: skip
        _try(words, name, tried)
    with _watched(f"{name}: practise", tried, LONGEST):
        _begin_practice(Studio(studio))
    _try(["forget", *everyone, "--yes", "Robin"], name, tried)
    if (studio / "Robin").exists():
        tried.faults.append(f"{name}: forget left {sorted((studio / 'Robin').rglob('*'))}")
    tried.faults += [f"{name}: {fault}" for fault in unreadable(out)]


def try_score(seed: int, tried: Tried) -> None:
    """Make one odd score and put it through every use of a score."""
    ending, content = ScoreMaker(seed).score()
    use = random.Random(seed).choice(("piece", "pieces", "handout", "plan"))
    with tempfile.TemporaryDirectory() as folder:
        score, page = Path(folder, "shelf", f"score{ending}"), Path(folder, "page.html")
        score.parent.mkdir()
        score.write_bytes(content)
        words = {
            "piece": ["piece", str(score), "--page", str(page)],
            "pieces": ["pieces", str(score.parent), "--page", str(page)],
            "handout": ["handout", "--seed", "1", "--score", str(score), str(page)],
            "plan": ["piece", "--studio", str(Path(folder, "studio")), str(score)],
        }[use]
        _try(words, f"score {seed}", tried, LONGEST_SCORE)
        tried.faults += [f"score {seed}: {fault}" for fault in unreadable(Path(folder))]


def unreadable(folder: Path) -> Iterator[str]:
    """Yield what is wrong with the pages and tables in a folder."""
    for path in folder.glob("*"):
        if path.suffix == ".html":
            yield from _faults_of_page(path)
        elif path.suffix == ".json":
            json.loads(path.read_text("utf-8"), parse_constant=_refuse)
        elif path.suffix == ".csv":
            rows = list(csv.reader(path.read_text("utf-8-sig").splitlines()))
            if len({len(row) for row in rows}) > 1:
                yield f"{path.name}: rows of different lengths"
        elif path.suffix == ".zip" and zipfile.ZipFile(path).testzip():
            yield f"{path.name}: damaged"


def _refuse(constant: str) -> None:
    raise ValueError(f"{constant} is no JSON (RFC 8259, 6)")


class _Scripts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "script" or any(name.startswith("on") for name, _ in attrs):
            self.found.append(tag)


def _faults_of_page(path: Path) -> Iterator[str]:
    text = path.read_text("utf-8")
    parser = _Scripts()
    parser.feed(text)
    if parser.found:
        yield f"{path.name}: a script that somebody brought"
    if "</html>" not in text:
        yield f"{path.name}: ends too soon"
    words = text.partition("</style>")[2]
    yield from (
        f"{path.name}: says {word}" for word in (">nan", ">inf", " nan ", ">None<") if word in words
    )


def _begin_practice(studio: Studio) -> None:
    pupil = studio.pupil("Robin")
    try:
        practice = practice_of(pupil, practice_context(pupil), seed=1)
    except UserError:
        return
    practice.drill(NOW)
    practice.chooser.next(NOW)


def _try(words: list[str], name: str, tried: Tried, seconds: int = LONGEST) -> None:
    said, errors = io.StringIO(), io.StringIO()
    status: object = None
    case = f"{name}: {' '.join(words[:1] + [word for word in words if word.startswith('--')])}"
    with (
        _watched(case, tried, seconds),
        mock.patch.object(commands, "_failed", _raise),
        contextlib.redirect_stdout(said),
        contextlib.redirect_stderr(errors),
    ):
        try:
            status = commands.main(words)
        except SystemExit as ended:
            status = ended.code
    tried.statuses[f"{words[0]} {status}"] += 1
    if status and not said.getvalue() + errors.getvalue():
        tried.faults.append(f"{case}: status {status} and not a word")
    if any(
        ord(letter) < 32 and letter not in "\n\t" for letter in said.getvalue() + errors.getvalue()
    ):
        tried.faults.append(f"{case}: control characters on the terminal")


def _raise(error: Exception) -> str:
    raise error


@contextlib.contextmanager
def _watched(case: str, tried: Tried, seconds: int) -> Iterator[None]:
    begun = time.monotonic()
    before = signal.signal(signal.SIGALRM, _stop)
    limits = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, limits[1]))
    signal.alarm(seconds)
    try:
        yield
    except TooLongError:
        tried.faults.append(f"{case}: not ended after {seconds} s")
    except Exception as error:
        tried.faults.append(f"{case}: {_place(error)} {error!r:.200}")
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
        resource.setrlimit(resource.RLIMIT_AS, limits)
    tried.uses[case.partition(": ")[2]] += 1
    tried.slowest = max(tried.slowest, time.monotonic() - begun)


def _stop(_number: int, _frame: object) -> None:
    raise TooLongError


def _place(error: BaseException) -> str:
    last = error.__traceback__
    while last and last.tb_next:
        last = last.tb_next
    return f"{Path(last.tb_frame.f_code.co_filename).name}:{last.tb_lineno}" if last else ""
