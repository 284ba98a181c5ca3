"""A place from which the program is started without a terminal, as each system has one."""

from __future__ import annotations

import os
import plistlib
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import platformdirs

from drills import __version__
from drills.app.output import write_bytes
from drills.app.user_error import UserError
from drills.engrave.icon import icon_icns, icon_ico
from landmarks.reasons import reason_of
from landmarks.translation import _

NAME, PROGRAM = "Landmark drills", "landmark-drills"
_RUN = "import sys; from drills.commands import main; sys.exit(main())"
_POWERSHELL = ("powershell", "-NoProfile", "-NonInteractive", "-Command")


@dataclass(frozen=True)
class Shortcut:
    """What starts the program: its files with their contents, and a script where one is needed."""

    path: Path
    """What a person sees and starts."""
    files: Mapping[Path, bytes]
    script: str | None = None
    """For PowerShell, where the system makes `path` itself."""


def add_shortcut() -> Path:
    """Put the program where people look for programs; return what they find there.

    Raises:
        UserError: it cannot be put there.
    """
    made = shortcut_of(sys.platform, os.environ, Path.home(), start_command())
    for path, content in made.files.items():
        with _told(path):
            path.parent.mkdir(parents=True, exist_ok=True)
        write_bytes(path, content)
        if content.startswith(b"#!"):
            path.chmod(0o700)
    if made.script is not None:
        _run_powershell(made.script, made.path)
    return made.path


def remove_shortcut() -> list[Path]:
    """Take away what `add_shortcut` made; return what was there.

    Raises:
        UserError: something cannot be removed.
    """
    made = shortcut_of(sys.platform, os.environ, Path.home(), start_command())
    there = [path for path in dict.fromkeys((*made.files, made.path)) if path.exists()]
    for path in there:
        with _told(path):
            if path.is_dir():
                shutil.rmtree(path)
            else:
                path.unlink()
    return there


def start_command() -> tuple[str, ...]:
    """Return the command line that opens the program's window, without a console."""
    program = Path(sys.executable)
    frozen = getattr(sys, "frozen", False)
    silent = program.with_name(f"{NAME}.exe" if frozen else "pythonw.exe")
    started = str(silent if silent.exists() else program)
    return (started,) if frozen else (started, "-c", _RUN)


def shortcut_of(
    system: str, environment: Mapping[str, str], home: Path, command: Sequence[str]
) -> Shortcut:
    """Return the shortcut for a system (as `sys.platform` names it) that runs a command line."""
    if system == "win32":
        return _start_menu(environment, home, command)
    return (
        _application(home, command) if system == "darwin" else _desktop(environment, home, command)
    )


def _desktop(environment: Mapping[str, str], home: Path, command: Sequence[str]) -> Shortcut:
    """Follow the freedesktop.org Desktop Entry Specification 1.5 and Icon Theme Specification."""
    told = Path(environment.get("XDG_DATA_HOME", ""))
    data = told if told.is_absolute() else home / ".local" / "share"
    entry = data / "applications" / f"{PROGRAM}.desktop"
    icon = data / "icons" / "hicolor" / "scalable" / "apps" / f"{PROGRAM}.svg"
    comment = _("Practise landmark notes at the piano")
    lines = (
        "[Desktop Entry]", "Version=1.5", "Type=Application", f"Name={NAME}",
        f"Comment={comment}",
        f"Exec={desktop_command(command)}", f"Icon={PROGRAM}", "Terminal=false",
        "Categories=Education;Music;",
    )  # fmt: skip
    svg = resources.files("drills.engrave").joinpath("icon.svg").read_bytes()
    return Shortcut(entry, {icon: svg, entry: ("\n".join(lines) + "\n").encode()})


def desktop_command(command: Sequence[str]) -> str:
    """Return a command line as the value of the key Exec.

    Each argument is quoted, with a backslash before what is special within quotes; as in any value
    of a desktop entry a backslash is doubled, and so is a percent sign, which begins a field code.

    >>> desktop_command(["/home/a b/100%/python"])
    '"/home/a b/100%%/python"'
    >>> print(desktop_command(["a$b"]))
    "a\\\\$b"
    """
    return " ".join(f'"{_escaped(argument)}"' for argument in command)


def _escaped(argument: str) -> str:
    quoted = "".join(f"\\{each}" if each in '"`$\\' else each for each in argument)
    return quoted.replace("\\", "\\\\").replace("%", "%%")


def _application(home: Path, command: Sequence[str]) -> Shortcut:
    """Make a bundle of one shell script, as in Apple's Bundle Programming Guide (from memory)."""
    bundle = home / "Applications" / f"{NAME}.app"
    contents = bundle / "Contents"
    about = {
        "CFBundleName": NAME, "CFBundleIdentifier": PROGRAM, "CFBundlePackageType": "APPL",
        "CFBundleExecutable": PROGRAM, "CFBundleIconFile": "icon.icns",
        "CFBundleShortVersionString": __version__, "NSHighResolutionCapable": True,
    }  # fmt: skip
    return Shortcut(
        bundle,
        {
            contents / "Info.plist": plistlib.dumps(about),
            contents / "Resources" / "icon.icns": icon_icns(),
            contents / "MacOS" / PROGRAM: f"#!/bin/sh\nexec {shlex.join(command)}\n".encode(),
        },
    )


def _start_menu(environment: Mapping[str, str], home: Path, command: Sequence[str]) -> Shortcut:
    """Have the Windows Script Host write a link (its CreateShortcut method, from memory)."""
    roaming = Path(environment.get("APPDATA") or home / "AppData" / "Roaming")
    link = roaming / "Microsoft" / "Windows" / "Start Menu" / "Programs" / f"{NAME}.lnk"
    icon = Path(platformdirs.user_data_dir(PROGRAM, appauthor=False)) / f"{PROGRAM}.ico"
    program, arguments = command[0], subprocess.list2cmdline(command[1:])
    script = (
        f"$s=(New-Object -ComObject WScript.Shell).CreateShortcut({_quoted(link)});"
        f"$s.TargetPath={_quoted(program)};$s.Arguments={_quoted(arguments)};"
        f"$s.IconLocation={_quoted(icon)};$s.Save()"
    )
    return Shortcut(link, {icon: icon_ico()}, script)


def _quoted(words: str | Path) -> str:
    return "'" + str(words).replace("'", "''") + "'"


def _run_powershell(script: str, path: Path) -> None:
    try:
        subprocess.run([*_POWERSHELL, script], check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        raise UserError(
            _("{path}: this link cannot be made; start landmark-drills by its name").format(
                path=path
            )
        ) from None


@contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise UserError(
            _("{path}: this cannot be changed ({reason}); change it by hand").format(
                path=path, reason=reason_of(error)
            )
        ) from None
