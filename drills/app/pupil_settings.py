"""How one pupil practises: changing it and telling it, in the words of the file."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import msgspec

from drills.app.output import writing_into
from drills.app.user_error import UserError
from drills.storage.landmark_set_file import copy_set
from drills.storage.settings import (
    Settings,
    SettingsError,
    change_settings,
    checked,
    entries,
    entries_changed,
    unknown_entries,
)
from drills.storage.studio import Pupil
from landmarks.sets import SetError, built_in_sets
from landmarks.translation import _


def keep_settings(before: Settings, after: Settings, pupil: Pupil) -> None:
    """Write what has changed in a pupil's settings, dated now; all else in her file stays.

    Raises:
        SettingsError: what stands in her file is no text of settings, and is left as it is.
        UserError: it cannot be written.
    """
    now = datetime.now().astimezone().replace(microsecond=0)
    with writing_into(pupil.folder, _("what is set")):
        change_settings(pupil, {**entries_changed(before, after), "changed": now})


def change_setting(settings: Settings, given: str, pupil: Pupil) -> Settings:
    """Return settings with one entry changed, given as "entry=value".

    A teacher's own landmark set is copied into the pupil's folder, to go where she goes.

    Raises:
        UserError: there is no such entry, or it cannot have this value.
    """
    name, equals, value = (part.strip() for part in given.partition("="))
    if not equals:
        raise UserError(
            _("{given}: say what is to be changed as in minutes=10").format(given=given)
        )
    try:
        changed = checked({**entries(settings), name: _read(value)})
    except SettingsError as error:
        raise UserError(
            _("{name}={value}: this cannot be set ({reason})").format(
                name=name, value=value, reason=error
            )
        ) from None
    if changed.landmarks in built_in_sets() or changed.landmarks == settings.landmarks:
        return changed
    with writing_into(pupil.folder, _("what is set")):
        try:
            kept = copy_set(Path(changed.landmarks), pupil)
        except SetError as error:
            raise UserError(error) from None
    return msgspec.structs.replace(changed, landmarks=kept)


def told_settings(settings: Settings, pupil: Pupil) -> Iterator[str]:
    """Yield a line for each entry with its value, and what this version does not know."""
    usual = entries(Settings())
    for name, value in entries(settings).items():
        is_usual = "" if value != usual[name] else _("  (as usual)")
        shown = "-" if value is None or value == "" else str(value)
        yield f"{name:<14} {shown}{is_usual}"
    if unknown := unknown_entries(pupil):
        yield _("not known to this version, and kept: {names}").format(names=", ".join(unknown))


def _read(value: str) -> Any:
    """Read a value as it would stand in the file; words need no quotation marks."""
    words = {"true": True, "yes": True, "false": False, "no": False, "": None}
    if value.casefold() in words:
        return words[value.casefold()]
    try:
        return msgspec.json.decode(value)
    except msgspec.DecodeError:
        return value
