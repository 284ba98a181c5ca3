"""The catalogue and the code never drift, and German is complete.

babel, which reads and writes gettext catalogues, extracts, reads and compiles here.
"""

import ast
import gettext
import tomllib
from io import BytesIO
from pathlib import Path
from string import Formatter

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import read_po

from drills.commands.language import ARGPARSE
from landmarks.translation import CATALOGUES, DOMAIN, languages

ROOT = Path(__file__).parents[2]
PACKAGES = ("landmarks", "drills")
KEYWORDS = {
    "_": None, "gettext_noop": None, "lazy": None, "ngettext": (1, 2), "pgettext": ((1, "c"), 2),
}  # fmt: skip
TRANSLATED = [language for language in languages() if language != "en"]


def key(context: str | None, message: str | tuple[str, ...]) -> tuple[str | None, str]:
    return context, message if isinstance(message, str) else message[0]


def extracted() -> set[tuple[str | None, str]]:
    """Read the messages out of code and tables as `pybabel extract` does."""
    mappings = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["babel"]["mappings"]
    methods = [(mapping["pattern"], mapping["method"]) for mapping in mappings]
    options = {mapping["pattern"]: mapping for mapping in mappings}
    return {
        key(context, message)
        for package in PACKAGES
        for _file, _line, message, _comments, context in extract_from_dir(
            ROOT / package, methods, options, keywords=KEYWORDS
        )
    }


def catalogue(path: Path) -> Catalog:
    with path.open("rb") as file:
        return read_po(file)


def po(language: str) -> Path:
    return CATALOGUES / language / "LC_MESSAGES" / f"{DOMAIN}.po"


def fields(message: str) -> set[str]:
    """Give the names in braces, with how they are converted and formatted."""
    return {
        f"{name}!{conversion}:{form}"
        for _text, name, form, conversion in Formatter().parse(message)
        if name is not None
    }


def test_the_template_holds_exactly_the_messages_of_the_code() -> None:
    template = catalogue(CATALOGUES / f"{DOMAIN}.pot")
    assert {key(m.context, m.id) for m in template if m.id} == extracted()


def test_there_is_german() -> None:
    assert "de" in TRANSLATED


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_catalogue_has_the_messages_of_the_template(language: str) -> None:
    template = catalogue(CATALOGUES / f"{DOMAIN}.pot")
    assert {key(m.context, m.id) for m in catalogue(po(language))} == {
        key(m.context, m.id) for m in template
    }


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_message_is_translated_and_none_is_in_doubt(language: str) -> None:
    for message in catalogue(po(language)):
        told = message.string if isinstance(message.string, tuple) else (message.string,)
        assert all(told), message.id
        assert not message.fuzzy or not message.id, message.id


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_has_the_values_of_its_message(language: str) -> None:
    for message in catalogue(po(language)):
        ids = message.id if isinstance(message.id, tuple) else (message.id,)
        told = message.string if isinstance(message.string, tuple) else (message.string,)
        if not message.id:
            continue
        for one, other in zip(ids, told, strict=True):
            if "python-format" in message.flags:
                assert one.count("%") == other.count("%"), one
            elif one != ids[0] or len(ids) == 1:
                assert fields(one) == fields(other), one
            else:
                # "1 note" may leave its number out.
                assert fields(other) | {"count!None:"} == fields(ids[1]) | {"count!None:"}, one
            assert one[:1].isspace() == other[:1].isspace(), one
            assert one[-1:].isspace() == other[-1:].isspace(), one
        assert not list(message.check()), message.id


@pytest.mark.parametrize("language", TRANSLATED)
def test_what_is_compiled_is_what_is_written(language: str) -> None:
    compiled = BytesIO()
    write_mo(compiled, catalogue(po(language)))
    compiled.seek(0)
    with po(language).with_suffix(".mo").open("rb") as file:
        committed = read_mo(file)
    told = read_mo(compiled)
    assert {key(m.context, m.id): m.string for m in committed if m.id} == {
        key(m.context, m.id): m.string for m in told if m.id
    }
    assert gettext.translation(DOMAIN, CATALOGUES, [language]).info()["language"] == language


def test_the_words_of_argparse_are_its_own() -> None:
    import argparse

    source = Path(argparse.__file__).read_text()
    asked = {
        node.args[0].value
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "_"
        and isinstance(node.args[0], ast.Constant)
    }
    assert set(ARGPARSE) <= asked


def test_the_name_that_translates_is_nothing_else_where_it_translates() -> None:
    for package in PACKAGES:
        for path in (ROOT / package).rglob("*.py"):
            names = [n for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.Name)]
            uses = {type(name.ctx) for name in names if name.id == "_"}
            assert not {ast.Load, ast.Store} <= uses, path


def test_no_message_stands_inside_an_f_string() -> None:
    """What stands there is not found before Python 3.12."""
    for package in PACKAGES:
        for path in (ROOT / package).rglob("*.py"):
            for joined in ast.walk(ast.parse(path.read_text())):
                if isinstance(joined, ast.JoinedStr):
                    assert not [
                        ast.unparse(node)
                        for node in ast.walk(joined)
                        if isinstance(node, ast.Call)
                        and isinstance(node.func, ast.Name)
                        and node.func.id in KEYWORDS
                        and isinstance(node.args[0], ast.Constant)
                    ], path
