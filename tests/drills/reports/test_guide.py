"""The guide: the same in every language, complete in itself, true to the program."""

import re
import webbrowser
from argparse import ArgumentParser
from importlib import import_module
from pathlib import Path

import pytest

from drills.commands import _COMMANDS, main
from landmarks.translation import activate, languages

IDS = re.compile(r'id="([^"]+)"')
LINKS = re.compile(r'href="#([^"]+)"')
COMMAND_LINE = re.compile(r"<code>(landmark-drills[^<]*)</code>")
CODE = re.compile(r"<code>(.*?)</code>", re.DOTALL)
OPTION = re.compile(r"--[a-z-]+")


@pytest.fixture(autouse=True)
def _english_again(monkeypatch):
    for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.setenv(name, "")
    yield
    activate()


def guide(tmp_path, language="en"):
    file = tmp_path / f"{language}.html"
    words = ["--language", language, "guide", "--page", str(file), "--studio", str(tmp_path / "x")]
    assert main(words) == 0
    return file.read_text("utf-8")


def test_every_language_says_the_same_things_with_the_same_commands(tmp_path):
    english = guide(tmp_path)
    for language in languages():
        page = guide(tmp_path, language)
        assert f'<html lang="{language}">' in page
        assert IDS.findall(page) == IDS.findall(english)
        assert COMMAND_LINE.findall(page) == COMMAND_LINE.findall(english)
        assert OPTION.findall(" ".join(CODE.findall(page))) == OPTION.findall(
            " ".join(CODE.findall(english))
        )
        assert page.count("<svg") == english.count("<svg") == 3


def test_every_link_leads_to_a_section_and_every_section_is_linked(tmp_path):
    page = guide(tmp_path)
    assert LINKS.findall(page) == IDS.findall(page)


def test_every_command_but_the_bench_is_in_the_guide_and_every_command_in_it_is_one(tmp_path):
    said = {line.split()[1] for line in COMMAND_LINE.findall(guide(tmp_path)) if " " in line}
    said.discard("--language")
    assert said == set(_COMMANDS) - {"start", "benchmark"}


def test_every_option_in_the_guide_is_one_of_a_command_beside_it(tmp_path):
    known = {"--language", "--help"}
    for name in _COMMANDS:
        parser = ArgumentParser()
        import_module(f"drills.commands.{name.replace('-', '_')}").add_arguments(parser)
        known |= set(OPTION.findall(parser.format_help()))
    assert set(OPTION.findall(" ".join(CODE.findall(guide(tmp_path))))) <= known


def test_the_guide_asks_the_network_for_nothing_and_names_the_folder(tmp_path):
    page = guide(tmp_path)
    assert not re.search(r"(?:src|href)=\"(?!#)", page)
    assert "default-src 'none'" in page
    assert str(tmp_path / "x") in page


def test_the_words_in_its_pictures_are_in_the_language_of_the_page(tmp_path):
    assert "new" in re.findall(r"<text[^>]*>([^<]+)", guide(tmp_path))
    assert "neu" in re.findall(r"<text[^>]*>([^<]+)", guide(tmp_path, "de"))


@pytest.mark.parametrize("width", [360, 820])
@pytest.mark.parametrize("language", ["en", "de"])
def test_the_page_fits_a_telephone_and_a_sheet(tmp_path, browser, width, language):
    guide(tmp_path, language)
    browser.open(tmp_path / f"{language}.html", width)
    assert browser.evaluate("document.documentElement.scrollWidth") <= width


def test_it_is_written_into_the_studio_folder_and_opened(tmp_path, monkeypatch, capsys):
    opened = []
    monkeypatch.setattr(webbrowser, "open", lambda address: opened.append(address) or True)
    studio = tmp_path / "not" / "there"
    assert main(["guide", "--studio", str(studio)]) == 0
    file = studio / "guide.html"
    assert opened == [file.as_uri()]
    assert capsys.readouterr().out == f"{file}\n"


def test_without_a_browser_it_says_so_and_where_to_look_instead(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(webbrowser, "open", lambda address: False)
    assert main(["guide", "--studio", str(tmp_path)]) == 0
    path, said = capsys.readouterr().out.splitlines()
    assert Path(path).is_file()
    assert "demonstrate --headless" in said


def test_a_place_that_cannot_be_written_is_refused_in_one_sentence(tmp_path, capsys):
    assert main(["guide", "--page", str(tmp_path)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
