"""`landmark-drills settings`: how one pupil practises, set once."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING, Any

import msgspec

from drills.commands.options import (
    add_screen_options,
    add_studio_option,
    landmarks_named,
    pupil_of,
    studio_of,
)
from drills.commands.output import kept_in, print_lines
from drills.commands.refusal import Refusal
from drills.commands.screen import opened_screen
from drills.commands.usable import usable_settings
from drills.storage.settings import (
    ABOUT,
    Settings,
    SettingsError,
    checked,
    entries,
    write_settings,
)
from drills.storage.studio import Pupil
from drills.window.speech import voice_here
from landmarks.translation import _, noted

if TYPE_CHECKING:
    from drills.window.scene import Scene

DESCRIPTION = noted("""\
Open the page on which it is set how one pupil practises: landmarks, steps, ladder, length, how
quick is fluent, names, staves, look. It is kept in NICKNAME.settings.toml in the pupil's folder.
""")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--pupil", metavar=_("NICKNAME"), required=True, help=_("whose"))
    parser.add_argument("--list", action="store_true", help=_("print what is set"))
    parser.add_argument(
        "--change", action="append", default=[], metavar=_("ENTRY=VALUE"),
        help=_("set something without the window, in the words of the file: ") + ", ".join(ABOUT),
    )  # fmt: skip
    add_studio_option(parser)
    add_screen_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Open the page, or change and print what the options say."""
    pupil = pupil_of(arguments.pupil, studio_of(arguments))
    settings = usable_settings(pupil)
    for given in arguments.change:
        name, equals, value = given.partition("=")
        if not equals:
            raise Refusal(
                _("{given}: say what is to be changed as in minutes=10").format(given=given)
            )
        settings = _changed(settings, name.strip(), value.strip())
    if arguments.change:
        keep(settings, pupil)
    if arguments.list or arguments.change:
        print_lines(_told(settings))
        return 0
    from drills.window.static_window import show_alone  # noqa: PLC0415

    show_alone(opened_screen(arguments), settings_scene(pupil), settings.speech)
    return 0


def settings_scene(pupil: Pupil) -> Scene:
    """Give the page on which a pupil's settings are changed."""
    from drills.window.pages.settings_page import SettingsPage  # noqa: PLC0415

    return SettingsPage(
        pupil.nickname,
        usable_settings(pupil),
        landmarks_named,
        lambda settings: keep(settings, pupil),
        has_voice=voice_here() is not None,
    )


def keep(settings: Settings, pupil: Pupil) -> None:
    """Write a pupil's settings, dated now. Refusal if they cannot be written."""
    now = datetime.now().astimezone().replace(microsecond=0)
    with kept_in(pupil.folder, _("what is set")):
        write_settings(msgspec.structs.replace(settings, changed=now), pupil)


def _changed(settings: Settings, name: str, value: str) -> Settings:
    try:
        changed = checked({**entries(settings), name: _read(value)})
    except SettingsError as error:
        raise Refusal(
            _("{name}={value}: this cannot be set ({reason})").format(
                name=name, value=value, reason=error
            )
        ) from None
    landmarks_named(changed.landmarks)
    return changed


def _read(value: str) -> Any:
    """Read a value as it would stand in the file; words need no quotation marks."""
    words = {"true": True, "yes": True, "false": False, "no": False, "": None}
    if value.casefold() in words:
        return words[value.casefold()]
    try:
        return msgspec.json.decode(value)
    except msgspec.DecodeError:
        return value


def _told(settings: Settings) -> Iterator[str]:
    usual = entries(Settings())
    for name, value in entries(settings).items():
        is_usual = "" if value != usual[name] else _("  (as usual)")
        shown = "-" if value is None or value == "" else str(value)
        yield f"{name:<14} {shown}{is_usual}"
