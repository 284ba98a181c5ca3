"""What is meant where nobody says so: which pupil, whose picture, how a common page looks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from drills.app.tolerant_loading import load_settings
from drills.app.user_error import UserError
from drills.storage.pupil_export import remove_remains
from drills.storage.settings import Settings, change_settings, settings_of
from drills.storage.studio import Pupil, Studio, StudioError, default_folder
from drills.text.errors import DrillsError
from landmarks.translation import _

FIRST_NICKNAME = "Pianist"
"""Who practises in an empty studio if no nickname is given."""


def studio_at(folder: Path | None) -> Studio:
    """Return the studio in a folder, or this user's; its path holds wherever the program goes.

    What a removal that was cut off left there is removed first.
    """
    studio = Studio((folder or default_folder()).absolute())
    remove_remains(studio.folder)
    return studio


def practising_pupil(nickname: str | None, studio: Studio) -> tuple[Pupil, bool]:
    """Return who practises, and whether she is new: whoever has no folder yet is given one.

    Raises:
        UserError: nobody is named, and there are several.
        StudioError: the nickname cannot be one, or the folder cannot be made.
    """
    before = {pupil.nickname for pupil in studio.pupils()}
    pupil = studio.pupil(nickname or (_only_nickname(studio) if before else FIRST_NICKNAME))
    return pupil, pupil.nickname not in before


def known_pupil(nickname: str | None, studio: Studio) -> Pupil:
    """Return a pupil who is there already; without a nickname, the only one there is.

    Raises:
        UserError: there is none of this nickname, or nobody is named and there are several.
    """
    names = [pupil.nickname for pupil in studio.pupils()]
    if not names:
        raise UserError(
            _(
                "{folder} holds no pupils yet; begin with landmark-drills practise --pupil "
                "NICKNAME, or name another folder with --studio"
            ).format(folder=studio.folder)
        )
    try:
        return studio.known_pupil(nickname or _only_nickname(studio))
    except StudioError:
        raise UserError(_unknown(nickname or "", names, studio)) from None


def marks_in(
    studio: Studio, give_marks: Callable[[Mapping[str, str]], Mapping[str, str]]
) -> dict[str, str]:
    """Return the pupils of the studio by their nicknames, with their marks, which are kept.

    `give_marks` gives everybody a mark, from the marks that are kept ("" for none).
    """
    pupils = {pupil.nickname: pupil for pupil in studio.pupils()}
    kept = {nickname: load_settings(pupil).mark for nickname, pupil in pupils.items()}
    marks = give_marks(kept)
    for nickname, mark in marks.items():
        if mark != kept[nickname]:
            keep_mark(pupils[nickname], mark)
    return {nickname: marks[nickname] for nickname in pupils}


def keep_mark(pupil: Pupil, mark: str) -> None:
    """Keep a pupil's mark, where that can be done."""
    with suppress(OSError, DrillsError):
        change_settings(pupil, {"mark": mark})


def settings_for_all(studio: Studio) -> Settings:
    """Return settings for a page on which nobody in particular is meant.

    It looks as it does for all pupils, and is read out if one of them wants that.
    """
    known = []
    for pupil in studio.pupils():
        with suppress(OSError, DrillsError):
            known.append(settings_of(pupil))
    looks = {settings.look for settings in known}
    look = looks.pop() if len(looks) == 1 else Settings().look
    return Settings(look=look, speech=any(settings.speech for settings in known))


def days_of_practice(studio: Studio) -> dict[str, date]:
    """Return on which day each pupil practised last; whoever never did is left out."""
    days = {}
    for pupil in studio.pupils():
        for path in reversed(pupil.session_files()):
            # The names of session files begin with the day.
            with suppress(ValueError):
                days[pupil.nickname] = date.fromisoformat(path.name[:10])
                break
    return days


def latest_nickname(studio: Studio) -> str:
    """Return the nickname of whoever practised last, "" if nobody did."""
    latest = (
        (files[-1].name, pupil.nickname)
        for pupil in studio.pupils()
        if (files := pupil.session_files())
    )
    return max(latest, default=("", ""))[1]


def _only_nickname(studio: Studio) -> str:
    names = [pupil.nickname for pupil in studio.pupils()]
    if len(names) > 1:
        raise UserError(
            _("{folder} holds several pupils; add --pupil and one of {names}").format(
                folder=studio.folder, names=", ".join(names)
            )
        )
    return names[0]


def _unknown(nickname: str, names: list[str], studio: Studio) -> str:
    folded = {name.casefold(): name for name in names}
    near = get_close_matches(nickname.casefold(), folded, n=1)
    if near:
        return _("{folder} holds no {nickname!r}; did you mean {nearest}?").format(
            folder=studio.folder, nickname=nickname, nearest=folded[near[0]]
        )
    return _("{folder} holds no {nickname!r}; name one of {names}").format(
        folder=studio.folder, nickname=nickname, names=", ".join(names)
    )
