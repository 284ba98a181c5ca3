"""In which language the program speaks: as asked by hand, or else as the system does."""

from __future__ import annotations

import gettext
import locale
import os
from collections.abc import Mapping, Sequence

from drills.app.user_error import UserError
from landmarks.translation import CATALOGUES, DOMAIN, _, activate, gettext_noop, languages

OPTION = "--language"
_VARIABLES = ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")
"""The first of these that is set holds (GNU gettext manual, "Locale Environment Variables")."""


def languages_of(environment: Mapping[str, str]) -> list[str]:
    """Return the languages that the system speaks, the one liked best first: "de_AT".

    Where no variable says so, as mostly on Windows and macOS, the system's own setting does.
    """
    said = next((environment[name] for name in _VARIABLES if environment.get(name)), None)
    said = said or locale.getlocale()[0] or ""
    return [language.split(".")[0].split("@")[0] for language in said.split(":") if language]


def speak_as_asked(given: Sequence[str]) -> list[str]:
    """Speak the language of the option before the command, or the system's.

    Gives the words that remain. UserError if there is no such language.
    """
    words = list(given)
    asked = _asked(words)
    wanted = languages_of(os.environ) if asked is None else [asked]
    activate(*wanted)
    _let_argparse_speak(wanted)
    if asked is not None and asked.split("_")[0] not in languages():
        raise UserError(
            _("{option} {language}: this language is not here; choose one of {languages}").format(
                option=OPTION, language=asked, languages=", ".join(languages())
            )
        )
    return words


def _asked(words: list[str]) -> str | None:
    """Take the option with its language from the front of a command line, if it stands there."""
    if words[:1] == [OPTION] and words[1:]:
        asked = words[1]
        del words[:2]
        return asked
    if words and words[0].startswith(f"{OPTION}="):
        return words.pop(0).partition("=")[2]
    return None


def _let_argparse_speak(wanted: list[str]) -> None:
    """Have the words of argparse itself translated.

    It asks gettext's own domain, whose language only the environment says.
    """
    variables = {name: value for name, value in os.environ.items() if name in _VARIABLES}
    if not variables or languages_of(variables) != wanted:
        os.environ["LANGUAGE"] = ":".join(wanted)
    gettext.bindtextdomain(DOMAIN, str(CATALOGUES))
    gettext.textdomain(DOMAIN)


ARGPARSE = (
    gettext_noop("usage: "),
    gettext_noop("positional arguments"),
    gettext_noop("options"),
    gettext_noop("show this help message and exit"),
    gettext_noop("%(prog)s: error: %(message)s\n"),
    gettext_noop("argument %(argument_name)s: %(message)s"),
    gettext_noop("unrecognized arguments: %s"),
    gettext_noop("ambiguous option: %(option)s could match %(matches)s"),
    gettext_noop("invalid choice: %(value)r (choose from %(choices)s)"),
    gettext_noop("invalid %(type)s value: %(value)r"),
    gettext_noop("expected one argument"),
    gettext_noop("ignored explicit argument %r"),
    gettext_noop("the following arguments are required: %s"),
)
"""The messages of argparse that this program's command lines can bring about."""
