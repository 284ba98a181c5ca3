"""What a teacher sets once for a pupil, as one small TOML file in the pupil's folder.

Only what differs from the usual stands in it. Comments and order of a file that was edited by hand
are kept.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import msgspec

from drills.learning.fluency import USUAL, Fluency
from drills.storage.files import LARGEST_SMALL_FILE, read_plain, replace_privately
from drills.storage.folder_lock import folder_locked
from drills.storage.studio import Pupil
from drills.text.errors import DrillsError
from landmarks.sets import DEFAULT_SET, FURTHEST_STEP, LandmarkSet
from landmarks.translation import _, gettext_noop

if TYPE_CHECKING:
    import tomlkit
    from msgspec import inspect

SUFFIX = ".settings.toml"
_TITLE = gettext_noop("How this pupil practises. What is not named here is as usual.")

Look = Literal["paper", "high contrast"]
Size = Literal["usual", "large"]


class SettingsError(DrillsError, ValueError):
    """A file of settings that cannot be used; its one sentence says what, where, what to do."""


class Settings(
    msgspec.Struct,
    frozen=True,
    kw_only=True,
    rename={"landmarks": "set"},
):
    """How one pupil practises."""

    mark: str = ""
    """The picture that stands for the pupil; "" until there is one."""
    landmarks: str = DEFAULT_SET
    """A built-in landmark set, or the file of the teacher's own."""
    steps: Annotated[int, msgspec.Meta(ge=0, le=FURTHEST_STEP)] | None = None
    """How far to step from each landmark, each way; None leaves it to the set."""
    ladder: bool = True
    """Whether practice follows the ladder once it is set down what the pupil brings."""
    minutes: Annotated[int, msgspec.Meta(ge=1, le=60)] = 8
    """How long a session lasts."""
    upkeep: bool = True
    """Whether what is in ink is asked again while time is left."""
    fluent_factor: Annotated[float, msgspec.Meta(ge=1, le=10)] = USUAL.factor
    fluent_cap: Annotated[float, msgspec.Meta(ge=0.5, le=30)] = USUAL.cap
    """Fluent time, as in `Fluency`."""
    names: Literal["letter", "fixed-do", "german"] | None = None
    """How notes are named; None leaves it to what the pupil brings, and to the language."""
    values: Literal["british", "american", "syllables"] | None = None
    """How note values are named; None asks for none."""
    grand: bool = False
    """Whether both staves are shown."""
    look: Look = "paper"
    size: Size = "usual"
    quiet: bool = False
    """Whether the keyboard on the screen is silent."""
    motion: bool = True
    """Whether a found note turns to ink before the eyes, instead of at once."""
    speech: bool = False
    """Whether the words on the screen are spoken, where the machine has a voice."""
    changed: datetime | None = None
    """When this was set last, aware; the later of two files holds."""

    @property
    def fluency(self) -> Fluency:
        """How quick is fluent."""
        return Fluency(self.fluent_factor, self.fluent_cap)

    def stepped(self, landmarks: LandmarkSet) -> LandmarkSet:
        """Return a set with the steps set here."""
        if self.steps is None:
            return landmarks
        anchors = tuple(
            replace(anchor, steps_below=self.steps, steps_above=self.steps)
            for anchor in landmarks.anchors
        )
        return replace(landmarks, anchors=anchors)


ABOUT = {
    "mark": gettext_noop("the picture on the first page"),
    "set": gettext_noop("a built-in landmark set, or your own file"),
    "steps": gettext_noop("steps from each landmark, each way"),
    "ladder": gettext_noop("practice follows what the pupil brings"),
    "minutes": gettext_noop("length of a session"),
    "upkeep": gettext_noop("what is in ink is asked again while time is left"),
    "fluent_factor": gettext_noop("times the time to find a key that is shown"),
    "fluent_cap": gettext_noop("seconds; slower than this is never fluent"),
    "names": gettext_noop("letter, fixed-do or german"),
    "values": gettext_noop("british, american or syllables"),
    "grand": gettext_noop("both staves"),
    "look": gettext_noop("paper or high contrast"),
    "size": gettext_noop("usual or large"),
    "quiet": gettext_noop("no sound from the keyboard on the screen"),
    "motion": gettext_noop("a found note turns to ink before the eyes"),
    "speech": gettext_noop("names and remarks are spoken"),
    "changed": gettext_noop("the later of two files holds"),
}
"""What stands beside each entry in the file."""


_SIMPLE_VALUES = {
    "BoolType": gettext_noop("true or false"),
    "StrType": gettext_noop("words"),
    "DateTimeType": gettext_noop("a date with its time and time zone"),
}
"""What an entry can be, by msgspec's name for its type."""


def entries(settings: Settings) -> dict[str, Any]:
    """Return the settings by their names in the file."""
    fields = zip(settings.__struct_fields__, settings.__struct_encode_fields__, strict=True)
    return {encoded: getattr(settings, name) for name, encoded in fields}


def checked(told: dict[str, Any]) -> Settings:
    """Return the settings for entries as in the file.

    Raises: SettingsError with the reason if one cannot be so, or there is none of its name.
    """
    known = entries(Settings())
    if unknown := [name for name in told if name not in known]:
        raise SettingsError(
            _("there is no entry {name}; put one of {names}").format(
                name=unknown[0], names=", ".join(known)
            )
        )
    try:
        return msgspec.convert(told, Settings)
    except msgspec.ValidationError as error:
        raise SettingsError(_what_fits(error)) from None


def settings_of(pupil: Pupil) -> Settings:
    """Return a pupil's settings, the usual ones without a file. SettingsError if it is damaged."""
    path = _path(pupil)
    return read_settings(path) if path.is_file() else Settings()


def read_settings(path: Path) -> Settings:
    """Return the settings in a file. Raises: as `parse_settings`; OSError if unreadable."""
    return parse_settings(read_plain(path, LARGEST_SMALL_FILE), path)


def parse_settings(content: bytes, path: Path) -> Settings:
    """Return the settings that a file's content tells; `path` is for the sentence.

    What this version does not know is passed over, for a later one may have written it.
    Raises: SettingsError if an entry cannot be so.
    """
    try:
        told = msgspec.toml.decode(content.decode("utf-8-sig"), type=Settings)
    except (ValueError, RecursionError) as error:
        is_entry = isinstance(error, msgspec.ValidationError)
        reason = _what_fits(error) if is_entry else _("it is no TOML text")
        raise SettingsError(
            _(
                "{path}: these settings cannot be used ({reason}); mend this entry or remove the "
                "file"
            ).format(path=path, reason=reason)
        ) from None
    if told.changed is not None and told.changed.tzinfo is None:
        raise SettingsError(
            _("{path}: its date has no time zone; remove the entry `changed`").format(path=path)
        )
    return told


def unknown_entries(pupil: Pupil) -> tuple[str, ...]:
    """Return the entries of a pupil's file that this version does not know, in their order."""
    try:
        told = tomllib.loads(read_plain(_path(pupil), LARGEST_SMALL_FILE).decode("utf-8-sig"))
    except (OSError, ValueError, RecursionError):
        return ()
    known = entries(Settings())
    return tuple(name for name in told if name not in known)


def write_settings(settings: Settings, pupil: Pupil) -> None:
    """Write all of a pupil's settings. Raises: as `change_settings`."""
    change_settings(pupil, entries(settings))


def change_settings(pupil: Pupil, changes: Mapping[str, Any]) -> None:
    """Write these entries, by their names in the file, and leave everything else in it alone.

    The file is the owner's alone. Raises: SettingsError if what stands there is no TOML text, which
    is never overwritten; OSError if it cannot be written. Two programs do it one after the other.
    """
    import tomlkit

    path = _path(pupil)
    with folder_locked(pupil.folder):
        document = _present(path)
        _put(changes, document)
        replace_privately(path, tomlkit.dumps(document))


def _put(changes: Mapping[str, Any], document: tomlkit.TOMLDocument) -> None:
    import tomlkit

    usual = entries(Settings())
    for name, value in changes.items():
        if value == usual[name]:
            document.pop(name, None)
        elif document.get(name) != value:
            item = tomlkit.item(value)
            document[name] = item.comment(_(ABOUT[name])) if name not in document else item


def entries_changed(before: Settings, after: Settings) -> dict[str, Any]:
    """Return what differs in `after`, by the names in the file."""
    earlier = entries(before)
    return {name: value for name, value in entries(after).items() if value != earlier[name]}


def _what_fits(error: Exception) -> str:
    """Say which entry cannot be so, and what it can be, from what a validation said."""
    from msgspec.inspect import StructType, type_info

    about = type_info(Settings)
    assert isinstance(about, StructType)
    found = re.search(r"\$\.(\w+)", str(error))
    fitting = {field.encode_name: field.type for field in about.fields}
    if found is None or found[1] not in fitting:
        return _("an entry is written as no entry can be")
    return _("{name} is {values}").format(name=found[1], values=_values(fitting[found[1]]))


def _values(kind: inspect.Type) -> str:
    """Say which values a field of the settings can have."""
    from msgspec import inspect

    match kind:
        case inspect.IntType(ge=low, le=high):
            return _("a whole number from {low} to {high}").format(low=low, high=high)
        case inspect.FloatType(ge=low, le=high):
            return _("a number from {low} to {high}").format(low=low, high=high)
        case inspect.LiteralType(values=values):
            return _("one of {names}").format(names=", ".join(map(str, values)))
        case inspect.UnionType(types=types):
            named = [each for each in types if not isinstance(each, inspect.NoneType)]
            return _values(named[0])
        case _:
            return _(_SIMPLE_VALUES[type(kind).__name__])


def _path(pupil: Pupil) -> Path:
    return pupil.file(SUFFIX)


def _present(path: Path) -> tomlkit.TOMLDocument:
    """Return what stands in the file, or a new document where there is none."""
    import tomlkit

    if not path.exists():
        document = tomlkit.document()
        document.add(tomlkit.comment(_(_TITLE)))
        return document
    try:
        return tomlkit.parse(read_plain(path, LARGEST_SMALL_FILE).decode("utf-8-sig"))
    except (ValueError, RecursionError):
        raise SettingsError(
            _("{path}: this is no TOML text and is left as it is; mend it or remove it").format(
                path=path
            )
        ) from None
