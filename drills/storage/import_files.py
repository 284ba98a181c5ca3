"""Takes in session files, home plans and what pupils bring, that came from another machine.

The same file may come twice, renamed, out of order, cut short, or as a longer copy of one that
is already here: every whole line is kept, and none twice.
"""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path

import msgspec

from drills.learning.prior_knowledge.observations import PriorKnowledgeError
from drills.storage.files import (
    LARGEST_SESSION,
    LONGEST_LINE,
    lines_of,
    open_plain,
    read_plain,
    replace_privately,
)
from drills.storage.forgotten import ForgottenError, check_not_forgotten, count_forgotten
from drills.storage.landmark_set_file import SUFFIX as SET_SUFFIX
from drills.storage.landmark_set_file import keep_set
from drills.storage.plan import SUFFIX, PlanError, parse_plan, plan_of, write_plan
from drills.storage.prior_knowledge_file import SUFFIX as BEGINNINGS_SUFFIX
from drills.storage.prior_knowledge_file import (
    observations_of,
    parse_observations,
    write_observations,
)
from drills.storage.session_file import SessionFileError, read_header, session_file_name
from drills.storage.settings import SUFFIX as SETTINGS_SUFFIX
from drills.storage.settings import SettingsError, parse_settings, settings_of, write_settings
from drills.storage.studio import Pupil, Studio, StudioError
from drills.storage.zip_reader import SUFFIX as PACKED_SUFFIX
from drills.storage.zip_reader import PackedError, unpacked
from landmarks.reasons import reason_of
from landmarks.sets import SetError
from landmarks.translation import _, gettext_noop

ENDINGS = (
    ".jsonl", SUFFIX, BEGINNINGS_SUFFIX, SETTINGS_SUFFIX, SET_SUFFIX, PACKED_SUFFIX
)  # fmt: skip
"""How the names of files end that can be taken in."""


_UNUSABLE = (
    StudioError, PlanError, PriorKnowledgeError, SettingsError, SetError, PackedError
)  # fmt: skip


class Taken(Enum):
    """What became of a file."""

    NEW = gettext_noop("new")
    LONGER = gettext_noop("longer than before")
    KNOWN = gettext_noop("already here")


@dataclass
class Summary:
    """What was taken in, and what was not and why."""

    sessions: Counter[Taken] = field(default_factory=Counter)
    plans: Counter[Taken] = field(default_factory=Counter)
    beginnings: Counter[Taken] = field(default_factory=Counter)
    settings: Counter[Taken] = field(default_factory=Counter)
    sets: Counter[Taken] = field(default_factory=Counter)
    new_of: Counter[str] = field(default_factory=Counter)
    """New sessions by pupil."""
    cut_short: int = 0
    """Files with a line that was not whole."""
    refused: list[str] = field(default_factory=list)
    """One sentence for each file that should have been usable and was not."""
    passed_over: int = 0
    """Files that are nothing of the studio's."""

    def sentences(self) -> Iterator[str]:
        """Say it in plain words."""
        yield _("Sessions: {counts}.").format(counts=_counted(self.sessions))
        for pupil, count in sorted(self.new_of.items()):
            yield _("{pupil}: {count} new.").format(pupil=pupil, count=count)
        if self.plans.total():
            yield _("Home plans: {counts}.").format(counts=_counted(self.plans))
        if self.beginnings.total():
            yield _("What pupils bring: {counts}.").format(counts=_counted(self.beginnings))
        if self.settings.total():
            yield _("Settings: {counts}.").format(counts=_counted(self.settings))
        if self.sets.total():
            yield _("Landmark sets: {counts}.").format(counts=_counted(self.sets))
        if self.cut_short:
            yield _("Cut short, every whole line kept: {count}.").format(count=self.cut_short)
        if self.passed_over:
            yield _("Other files, passed over: {count}.").format(count=self.passed_over)
        yield from self.refused
        if self.is_empty:
            yield _(
                "Nothing of a studio was among them; choose a folder that holds pupils' folders, "
                "or a ZIP file that was packed with export."
            )

    @property
    def is_empty(self) -> bool:
        """Whether there was no file of a studio, neither good nor bad."""
        kinds = (self.sessions, self.plans, self.beginnings, self.settings, self.sets)
        return not self.refused and not any(kind.total() for kind in kinds)


def files_in(places: Iterable[Path]) -> list[Path]:
    """Return the files among `places` and in the folders among them, at any depth.

    FileNotFoundError if a place does not exist.
    """
    found: list[Path] = []
    for place in places:
        if place.is_dir():
            found += sorted(path for path in place.rglob("*") if path.is_file())
        elif place.is_file():
            found.append(place)
        else:
            raise FileNotFoundError(place)
    return found


@dataclass(frozen=True)
class _File:
    """A file that came from elsewhere: what it is called in sentences, its name, its content."""

    where: Path
    name: str
    content: bytes


def take_in_files(
    paths: Iterable[Path],
    studio: Studio,
    advance: Callable[[], None] = lambda: None,
) -> Summary:
    """Return what became of files that are taken into the studio, and of what ZIP files hold.

    `advance` is called once a file, and what it raises ends it. A pupil who is forgotten meanwhile
    is not brought back.
    """
    summary, taker = Summary(), _Taker(studio, count_forgotten(studio.folder))
    for path in paths:
        with _refusals(path.name, path, summary):
            if path.suffix.casefold() == PACKED_SUFFIX:
                for name, content in unpacked(path):
                    within = Path(path.name) / name
                    with _refusals(str(within), within, summary):
                        taker.take(_File(within, name, content), summary)
            elif _may_be_ours(path):
                taker.take(_File(path, path.name, read_plain(path, LARGEST_SESSION)), summary)
            else:
                summary.passed_over += 1
        advance()
    return summary


def _may_be_ours(path: Path) -> bool:
    return path.name.endswith(ENDINGS) or path.stat().st_size <= LARGEST_SESSION


@contextmanager
def _refusals(name: str, path: Path, summary: Summary) -> Iterator[None]:
    """Tell of a file that cannot be taken in, by its name, or with its path if it is unreadable."""
    try:
        yield
    except ForgottenError as error:
        summary.refused.append(f"{name}: {error.strerror}.")
    except (
        StudioError,
        PlanError,
        PriorKnowledgeError,
        SettingsError,
        PackedError,
        SetError,
    ) as error:
        summary.refused.append(f"{name}: {error}.")
    except OSError as error:
        summary.refused.append(
            _("{path}: this file cannot be used ({reason}).").format(
                path=path, reason=reason_of(error)
            )
        )


@dataclass(frozen=True)
class _Taker:
    """Takes single files into a studio in which so many pupils had been forgotten."""

    studio: Studio
    forgotten: int

    def take(self, file: _File, summary: Summary) -> None:
        """Take in a file of whatever kind it is, and count it."""
        if file.name.endswith(SUFFIX):
            summary.plans[self._take_plan(file)] += 1
        elif file.name.endswith(SETTINGS_SUFFIX):
            summary.settings[self._take_settings(file)] += 1
        elif file.name.endswith(SET_SUFFIX):
            summary.sets[self._take_set(file)] += 1
        elif file.name.endswith(BEGINNINGS_SUFFIX):
            summary.beginnings[self._take_beginnings(file)] += 1
        else:
            self._take_session(file, summary)

    def _pupil(self, nickname: str) -> Pupil:
        """Return the pupil to whom a file belongs, unless she was forgotten meanwhile."""
        check_not_forgotten(self.studio.folder, nickname, self.forgotten)
        return self.studio.pupil(nickname)

    def _take_plan(self, file: _File) -> Taken:
        plan = parse_plan(file.content, file.where)
        pupil = self._pupil(plan.pupil)
        present = plan_of(pupil)
        if present is not None and present.made >= plan.made:
            return Taken.KNOWN
        write_plan(msgspec.structs.replace(plan, pupil=pupil.nickname), pupil.folder)
        return Taken.NEW

    def _take_settings(self, file: _File) -> Taken:
        """Take the later of two files; a pupil keeps the mark that is known here."""
        told = parse_settings(file.content, file.where)
        pupil = self._pupil(file.name.removesuffix(SETTINGS_SUFFIX))
        present = settings_of(pupil)
        if told.changed is None or (present.changed and present.changed >= told.changed):
            return Taken.KNOWN
        write_settings(msgspec.structs.replace(told, mark=present.mark or told.mark), pupil)
        return Taken.NEW

    def _take_set(self, file: _File) -> Taken:
        pupil = self._pupil(file.name.removesuffix(SET_SUFFIX))
        return Taken.NEW if keep_set(file.content, file.where, pupil) else Taken.KNOWN

    def _take_beginnings(self, file: _File) -> Taken:
        """Unite what both machines know: nothing that was seen is lost."""
        told = parse_observations(file.content, file.where)
        pupil = self._pupil(told.pupil)
        present = observations_of(pupil)
        united = told if present is None else present.united(told)
        if united == present:
            return Taken.KNOWN
        write_observations(msgspec.structs.replace(united, pupil=pupil.nickname), pupil)
        return Taken.NEW if present is None else Taken.LONGER

    def _take_session(self, file: _File, summary: Summary) -> None:
        try:
            header = read_header(file.content[:LONGEST_LINE].split(b"\n", 1)[0], file.where)
        except SessionFileError:
            if file.name.endswith(".jsonl"):
                summary.refused.append(
                    _("{path}: this is not a session file; leave it out.").format(path=file.name)
                )
            else:
                summary.passed_over += 1
            return
        lines, is_whole = _whole_lines(list(lines_of(io.BytesIO(file.content))))
        target = self._pupil(header.pupil).sessions_folder / session_file_name(header)
        taken = _unite_session(target, lines)
        summary.cut_short += not is_whole
        summary.sessions[taken] += 1
        if taken is Taken.NEW:
            summary.new_of[header.pupil] += 1


def _unite_session(target: Path, lines: Sequence[bytes]) -> Taken:
    if not target.exists():
        _write(target, lines)
        return Taken.NEW
    with open_plain(target, LARGEST_SESSION) as file:
        present, _is_all = _whole_lines(list(lines_of(file)))
    united = _united(present, lines)
    if len(united) == len(present):
        return Taken.KNOWN
    _write(target, united)
    return Taken.LONGER


def _write(target: Path, lines: Sequence[bytes]) -> None:
    replace_privately(target, b"\n".join(lines) + b"\n")


def _whole_lines(lines: Sequence[bytes]) -> tuple[list[bytes], bool]:
    """Return the lines that can be read, without their ends, and whether all could."""
    stripped = [line.rstrip(b"\r\n") for line in lines]
    whole = [line for line in stripped if _is_whole(line)]
    return whole, len(whole) == sum(bool(line) for line in stripped)


def _is_whole(line: bytes) -> bool:
    try:
        return isinstance(msgspec.json.decode(line), dict)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return False


class _Timed(msgspec.Struct):
    t: float = 0.0


def _united(present: Sequence[bytes], other: Sequence[bytes]) -> list[bytes]:
    """Return the lines of two copies of a session, in order of time, none lost and none twice."""
    missing = list((Counter(other) - Counter(present)).elements())
    if not missing:
        return list(present)
    if list(other[: len(present)]) == list(present):
        return list(other)
    header, *events = present
    added = [line for line in missing if line != header]
    return [header, *sorted(events + added, key=_time_of)]


def _time_of(line: bytes) -> float:
    """Return when a line's event happened; 0 if it does not say so in a way that can be read."""
    try:
        return msgspec.json.decode(line, type=_Timed).t
    except msgspec.DecodeError:
        return 0.0


def _counted(taken: Counter[Taken]) -> str:
    return ", ".join(f"{taken[kind]} {_(kind.value)}" for kind in Taken)
