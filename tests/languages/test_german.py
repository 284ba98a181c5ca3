"""The program speaks German; what it records stays English."""

import json
import os
import subprocess
import sys
from datetime import UTC, datetime
from html import unescape
from pathlib import Path

import pytest

from drills.cards.card import cards_of, key_cards
from drills.commands import main
from drills.commands.language import languages_of
from drills.learning.fluency import USUAL
from drills.review import each_pupil
from drills.review.each_pupil import SessionFiles, review_pupils
from drills.sessions.view import Phase
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from drills.text.formatting import decimal
from drills.window.pages.card_page import PageSetting, practice_page
from landmarks.names import GERMAN, usual_naming
from landmarks.sets import built_in_sets
from landmarks.translation import activate, active_languages, gettext_noop, lazy
from tests.drills.window.test_buttons import PAGES
from tests.scripted_drill import PlayedDrill

FIVE = built_in_sets()["five"]
CARDS = (*cards_of(FIVE), *key_cards(FIVE))
SAMPLES = Path(__file__).parents[2] / "sample_sessions"
SIZES = [(1024, 768), (800, 600)]


@pytest.fixture(autouse=True)
def _english_again(monkeypatch):
    for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.setenv(name, "")
    yield
    activate()


@pytest.fixture
def _german():
    activate("de")


def words(layers):
    return [layer.words for layer in layers if layer.words]


@pytest.mark.usefixtures("_german")
def test_a_pupil_reads_german_under_her_card():
    drill = PlayedDrill(CARDS[1])
    setting = PageSetting(1024, 768, False, usual_naming(), CARDS)
    drill.play(CARDS[1].key + 2)
    assert "du hast A gespielt" in words(practice_page(drill.view, setting))
    drill.play(CARDS[1].key)
    assert drill.view.phase is Phase.RIGHT
    assert "G im Violinschlüssel" in words(practice_page(drill.view, setting))


def played(folder, *language):
    assert (
        main([*language, "demonstrate", "--headless", "--folder", str(folder), "--seed", "5"]) == 0
    )
    (file,) = folder.rglob("*.jsonl")
    header, *events = file.read_text().splitlines()
    of_its_own = ("session", "started", "clock_ns")
    kept = {name: value for name, value in json.loads(header).items() if name not in of_its_own}
    return kept, events


def test_a_session_file_is_the_same_in_every_language(tmp_path, capsys):
    english = played(tmp_path / "english")
    german = played(tmp_path / "german", "--language", "de")
    assert "die Sitzung:" in capsys.readouterr().out
    assert german == english
    (file,) = (tmp_path / "german").rglob("*.jsonl")
    assert read_session(file).events


@pytest.mark.usefixtures("_german")
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("page", PAGES)
def test_no_german_word_is_cut_on_the_pages_of_buttons(page, size):
    scene = page()
    whole = {button.words for button in scene.buttons(*size)}
    for layer in scene.layers(*size):
        shown = unescape(layer.markup.rpartition("</text>")[0].rpartition(">")[2])
        assert not shown.endswith("…") or shown in whole


@pytest.mark.usefixtures("_german")
def test_german_names_notes_with_h():
    assert usual_naming() == GERMAN


def test_a_decimal_has_a_comma_in_german():
    assert decimal(1.44) == "1.4"
    activate("de")
    assert decimal(1.44) == "1,4"


def test_what_is_told_has_its_english_whatever_is_spoken():
    activate("de")
    both = lazy("{first} and {last}", first=lazy("keys by name"), last="C", capital=True)
    assert str(both) == "Tasten nach Namen und C"
    assert both.english == "Keys by name and C"


@pytest.mark.parametrize(
    ("environment", "languages"),
    [
        ({"LANGUAGE": "de:en", "LANG": "fr_FR.UTF-8"}, ["de", "en"]),
        ({"LC_ALL": "de_AT.UTF-8"}, ["de_AT"]),
        ({"LC_MESSAGES": "de_DE@euro", "LANG": "C"}, ["de_DE"]),
        ({"LANG": "C.UTF-8"}, ["C"]),
    ],
)
def test_the_system_says_its_language_by_the_usual_variables(environment, languages):
    """GNU gettext manual, "Locale Environment Variables"."""
    assert languages_of(environment) == languages


@pytest.mark.parametrize(
    ("languages", "word"),
    [(("de",), "Note"), (("de_AT",), "Note"), (("fr", "de"), "Note"), (("en", "de"), "note"),
     (("C",), "note"), (("fr",), "note"), ((), "note")],
)  # fmt: skip
def test_the_first_language_that_is_known_is_spoken(languages, word):
    activate(*languages)
    assert lazy(gettext_noop("note")).english == "note"
    assert str(lazy("note")) == word
    assert active_languages() == languages


def test_help_and_errors_of_the_command_line_are_german(capsys):
    with pytest.raises(SystemExit):
        main(["--language", "de", "practise", "--help"])
    usage = capsys.readouterr().out
    assert usage.startswith("Aufruf: landmark-drills practise")
    assert "diese Hilfe zeigen" in usage
    assert "Optionen:" in usage
    with pytest.raises(SystemExit):
        main(["--language=de", "settings"])
    assert "diese Angaben fehlen: --pupil" in capsys.readouterr().err


def test_a_language_that_is_not_here_is_refused_in_one_sentence(capsys):
    assert main(["--language", "xx", "ports"]) == 2
    assert "choose one of en, de" in capsys.readouterr().err


def test_other_processes_speak_as_the_program_does(monkeypatch):
    """The studio's review is made by several processes when there is much to read."""
    monkeypatch.setattr(each_pupil, "FEW_FILES", 0)
    activate("de")
    pupils = Studio(SAMPLES).pupils()[:2]
    files = [SessionFiles(pupil.nickname, tuple(pupil.session_files()), USUAL) for pupil in pupils]
    evening = datetime(2026, 4, 1, 20, tzinfo=UTC)
    here = review_pupils(files, evening, cores=1)
    assert review_pupils(files, evening, cores=2) == here
    assert all("Der Grund" in review.next_step for review in here)


def test_the_environment_alone_makes_it_german():
    asked = subprocess.run(
        [sys.executable, "-c", "from drills.commands import main; main(['--help'])"],
        capture_output=True, encoding="utf-8", check=True,
        env={**os.environ, "LANG": "de_DE.UTF-8", "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert asked.stdout.startswith("Aufruf: ")
