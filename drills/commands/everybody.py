"""All pupils of a studio together: their marks, and how a page for nobody in particular looks."""

from __future__ import annotations

from contextlib import suppress

import msgspec

from drills.commands.usable import usable_settings
from drills.storage.settings import Settings, SettingsError, settings_of, write_settings
from drills.storage.studio import Pupil, Studio


def marks_in(studio: Studio) -> dict[str, str]:
    """Give the pupils of the studio by their nicknames, with their marks, which are kept."""
    from drills.window.pages.marks import marks_of  # noqa: PLC0415

    pupils = {pupil.nickname: pupil for pupil in studio.pupils()}
    kept = {nickname: usable_settings(pupil).mark for nickname, pupil in pupils.items()}
    marks = marks_of(kept)
    for nickname, mark in marks.items():
        if mark != kept[nickname]:
            keep_mark(pupils[nickname], mark)
    return {nickname: marks[nickname] for nickname in pupils}


def keep_mark(pupil: Pupil, mark: str) -> None:
    """Keep a pupil's mark, where that can be done."""
    with suppress(OSError, SettingsError):
        write_settings(msgspec.structs.replace(settings_of(pupil), mark=mark), pupil)


def settings_for_all(studio: Studio) -> Settings:
    """Give settings for a page on which nobody in particular is meant.

    It looks as it does for all pupils, and is read out if one of them wants that.
    """
    known = []
    for pupil in studio.pupils():
        with suppress(OSError, SettingsError):
            known.append(settings_of(pupil))
    looks = {settings.look for settings in known}
    look = looks.pop() if len(looks) == 1 else Settings().look
    return Settings(look=look, speech=any(settings.speech for settings in known))
