"""What a teacher sets once for a pupil is kept as readable TOML, and reaches practice."""

import argparse
import re
import stat
import tomllib
from datetime import datetime, timedelta, timezone

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.app.practice_context import practice_context
from drills.cards.card import cards_of
from drills.commands import main
from drills.commands.options import add_drill_options, practice_options
from drills.learning.fluency import Fluency
from drills.learning.planner import Planner
from drills.learning.response import Response
from drills.storage.import_files import take_in_files
from drills.storage.pupil_export import list_files
from drills.storage.settings import (
    ABOUT,
    SUFFIX,
    Settings,
    SettingsError,
    change_settings,
    entries,
    entries_changed,
    read_settings,
    settings_of,
    unknown_entries,
    write_settings,
)
from drills.storage.studio import Studio
from drills.window.pages.settings_page import DONE, TURN, SettingsPage
from landmarks.names import FIXED_DO
from landmarks.sets import built_in_sets

FIVE = built_in_sets()["five"]
ZONE = timezone(timedelta(hours=2))
NOW = datetime(2026, 11, 3, 16, 0, tzinfo=ZONE)
ANY = st.builds(
    Settings,
    mark=st.sampled_from(["", "boat", "kite"]),
    landmarks=st.sampled_from(["five", "outward", 'my "own" set.toml']),
    steps=st.none() | st.integers(0, 4),
    ladder=st.booleans(),
    minutes=st.integers(1, 60),
    fluent_factor=st.floats(1, 10),
    fluent_cap=st.floats(0.5, 30),
    names=st.sampled_from([None, "letter", "fixed-do", "german"]),
    values=st.sampled_from([None, "british", "american", "syllables"]),
    grand=st.booleans(),
    look=st.sampled_from(["paper", "high contrast"]),
    size=st.sampled_from(["usual", "large"]),
    quiet=st.booleans(),
    motion=st.booleans(),
    speech=st.booleans(),
    changed=st.none() | st.just(NOW),
)


@pytest.fixture(scope="module")
def robin(tmp_path_factory):
    return Studio(tmp_path_factory.mktemp("studio")).pupil("Robin")


def path_of(pupil):
    return pupil.folder / f"{pupil.nickname}{SUFFIX}"


@given(ANY, ANY)
def test_whatever_is_set_is_read_again_and_is_toml_for_every_reader(robin, first, then):
    write_settings(first, robin)
    write_settings(then, robin)
    assert settings_of(robin) == then
    told = tomllib.loads(path_of(robin).read_text("utf-8"))
    usual = entries(Settings())
    assert told == {name: value for name, value in entries(then).items() if value != usual[name]}


def test_every_entry_is_explained_beside_it():
    assert ABOUT.keys() == entries(Settings()).keys()


def test_a_file_edited_by_hand_keeps_its_comments(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    path_of(pupil).write_text("# after the holidays\nminutes = 5  # tired\nquiet = true\n")
    write_settings(msgspec.structs.replace(settings_of(pupil), minutes=8, steps=2), pupil)
    text = path_of(pupil).read_text()
    assert "# after the holidays" in text
    assert tomllib.loads(text) == {"quiet": True, "steps": 2}


def test_settings_are_for_their_owners_eyes(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    write_settings(Settings(minutes=5), pupil)
    assert stat.S_IMODE(path_of(pupil).stat().st_mode) == 0o600
    assert path_of(pupil) in list_files(pupil).others


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("minutes = 0", "minutes is a whole number from 1 to 60"),
        ("minutes = 'ten'", "minutes is a whole number from 1 to 60"),
        ("quiet = 3", "quiet is true or false"),
        ("fluent_cap = 0.1", "fluent_cap is a number from 0.5 to 30"),
        ("names = 'latin'", "names is one of fixed-do, german, letter"),
        ("minutes =", "no TOML"),
        ("changed = 2026-11-03T16:00:00", "time zone"),
    ],
)
def test_what_cannot_be_used_is_told_in_one_sentence_with_its_place(tmp_path, text, told):
    path = tmp_path / "Robin.settings.toml"
    path.write_text(text)
    with pytest.raises(SettingsError) as error:
        read_settings(path)
    assert str(path) in str(error.value)
    assert told in str(error.value)
    assert "\n" not in str(error.value)


def test_a_change_leaves_what_it_does_not_know_and_every_other_entry_alone(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    path_of(pupil).write_text('# by hand\ntempo = 3\nminutes = 900\nlook = "high contrast"\n')
    change_settings(pupil, {"quiet": True})
    told = tomllib.loads(path_of(pupil).read_text())
    assert told == {"tempo": 3, "minutes": 900, "look": "high contrast", "quiet": True}
    assert path_of(pupil).read_text().startswith("# by hand\n")
    change_settings(pupil, {"minutes": 10})
    assert settings_of(pupil) == Settings(minutes=10, look="high contrast", quiet=True)
    assert unknown_entries(pupil) == ("tempo",)


def test_two_open_pages_keep_each_others_changes(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    first = second = settings_of(pupil)
    change_settings(pupil, entries_changed(first, Settings(minutes=12)))
    change_settings(pupil, entries_changed(second, Settings(grand=True)))
    assert settings_of(pupil) == Settings(minutes=12, grand=True)


def test_what_is_no_toml_text_is_never_overwritten(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    path_of(pupil).write_text("minutes = = 12\n")
    with pytest.raises(SettingsError, match="left as it is"):
        change_settings(pupil, {"quiet": True})
    assert path_of(pupil).read_text() == "minutes = = 12\n"


def asked(*words):
    parser = argparse.ArgumentParser()
    add_drill_options(parser)
    return practice_options(parser.parse_args(words))


def test_the_command_line_wins_over_settings_and_settings_over_the_usual(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    write_settings(Settings(landmarks="outward", names="fixed-do", steps=0, grand=True), pupil)
    music = practice_context(pupil, asked())
    assert (music.landmarks.name, music.naming, music.grand) == ("outward", FIXED_DO, True)
    assert not any(card.steps for card in cards_of(music.landmarks))
    told = practice_context(pupil, asked("--set", "cs", "--names", "german"))
    assert (told.landmarks.name, told.naming.name) == ("cs", "german")


def test_damaged_settings_do_not_keep_anybody_from_practising(tmp_path, caplog):
    pupil = Studio(tmp_path).pupil("Robin")
    path_of(pupil).write_text("minutes = 0")
    assert practice_context(pupil, asked()).settings == Settings()
    assert "minutes" in caplog.text


def test_a_stricter_factor_keeps_notes_longer_in_pencil():
    cards = cards_of(FIVE)
    answers = [
        Response(card, NOW + timedelta(days=day, minutes=turn), 2.2, True, card.key)
        for day in range(4)
        for turn in range(3)
        for card in cards
    ]
    later = NOW + timedelta(days=5)
    usual = Planner(cards, answers).standing(cards[0], later)
    strict = Planner(cards, answers, fluency=Fluency(factor=1.2)).standing(cards[0], later)
    assert strict.p_secured < usual.p_secured


def test_settings_travel_to_the_home_machine_and_the_later_hold(tmp_path):
    lesson, home = Studio(tmp_path / "lesson"), Studio(tmp_path / "home")
    write_settings(Settings(mark="boat", minutes=12, changed=NOW), lesson.pupil("Robin"))
    write_settings(Settings(mark="kite"), home.pupil("robin"))
    path = path_of(lesson.pupil("Robin"))
    summary = take_in_files([path], home)
    assert settings_of(home.pupil("Robin")) == Settings(mark="kite", minutes=12, changed=NOW)
    assert list(summary.sentences())[-1] == "Settings: 1 new, 0 longer than before, 0 already here."
    write_settings(
        Settings(mark="kite", minutes=4, changed=NOW + timedelta(days=1)), home.pupil("Robin")
    )
    take_in_files([path], home)
    assert settings_of(home.pupil("Robin")).minutes == 4


def test_a_teacher_sets_without_the_window(tmp_path, capsys):
    Studio(tmp_path).pupil("Robin")
    words = ["settings", "--pupil", "Robin", "--studio", str(tmp_path)]
    assert main([*words, "--change", "minutes=12", "--change", "quiet=yes"]) == 0
    assert "minutes        12\n" in capsys.readouterr().out
    assert settings_of(Studio(tmp_path).pupil("Robin")).minutes == 12
    for wrong in ("minutes=100", "tempo=3", "minutes", "set=nowhere"):
        assert main([*words, "--change", wrong]) == 2
        assert wrong.split("=")[0] in capsys.readouterr().err
    assert settings_of(Studio(tmp_path).pupil("Robin")).minutes == 12


def page_of(settings=None):
    kept = []
    return SettingsPage("Robin", settings or Settings(), lambda name: FIVE, kept.append, True), kept


def test_every_press_is_kept_at_once_and_the_example_follows():
    page, kept = page_of()
    before = [layer.markup for layer in page.page(1024, 768)]
    page.act("names/2")
    page.act("names/2")
    assert [settings.names for settings in kept] == ["fixed-do"]
    assert [layer.markup for layer in page.page(1024, 768)] != before
    page.act(DONE)
    assert page.over


def words_on(page):
    found = (re.findall(r">([^<]+)</text>", layer.markup) for layer in page.layers(1024, 768))
    return " ".join(words for several in found for words in several)


def test_the_example_is_shown_in_the_look_and_the_size_that_are_chosen():
    page, _ = page_of()
    seen = set()
    for action in ("look/0", "look/1", "size/1", "grand/1"):
        page.act(action)
        page.focus = DONE
        seen.add("".join(layer.markup for layer in page.page(1024, 768)))
    assert len(seen) == 4
    assert any("#000000" in layer.markup for layer in page.page(1024, 768))
    assert page.settings == Settings(look="high contrast", size="large", grand=True)


@pytest.mark.parametrize("size", [(800, 600), (1024, 768), (1920, 1080)])
def test_every_choice_says_what_it_does_above_the_buttons_at_the_foot(size):
    page, _ = page_of()
    for _leaf in range(2):
        buttons = page.buttons(*size)
        foot = next(button.box.y for button in buttons if button.action == DONE)
        for button in buttons:
            page.focus = button.action
            assert all(layer.box.bottom <= foot for layer in page.page(*size)[1:])
        assert {button.action for button in buttons} >= {TURN, DONE}
        page.act(TURN)


def test_everything_that_can_be_set_but_the_mark_stands_on_one_of_the_leaves():
    page, _ = page_of()
    first = {button.action.split("/")[0] for button in page.buttons(1024, 768)}
    page.act(TURN)
    second = {button.action.split("/")[0] for button in page.buttons(1024, 768)}
    assert first & second == {TURN, DONE}
    assert first | second == {*Settings.__struct_fields__, TURN, DONE} - {"mark", "changed"}


def test_a_machine_without_a_voice_says_so_where_the_voice_is_set():
    for has_voice in (True, False):
        page = SettingsPage("Robin", Settings(), lambda name: FIVE, print, has_voice)
        page.act(TURN)
        page.focus = "speech/1"
        assert ("no voice" in words_on(page)) is not has_voice


def test_a_teachers_own_set_stays_chosen():
    page, _ = page_of(Settings(landmarks="/home/set.toml"))
    chosen = {button.words for button in page.buttons(1024, 768) if button.chosen}
    assert "your file" in chosen
