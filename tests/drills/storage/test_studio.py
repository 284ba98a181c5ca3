"""The studio: pupils, their folders, and what is remembered of pianos."""

import os
import stat
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.app.session_clock import SessionClock
from drills.storage.files import replace_privately
from drills.storage.nickname import LONGEST_NICKNAME, NicknameError, checked_nickname
from drills.storage.pupil_export import forget
from drills.storage.recorder import Recorder, RecordingError
from drills.storage.settings import settings_of
from drills.storage.studio import (
    Studio,
    StudioError,
    default_folder,
)
from tests.scripted_drill import FIVE, TREBLE_G, PlayedDrill


def mode(path):
    return stat.S_IMODE(path.stat().st_mode)


def practise(studio, nickname="Robin"):
    """Let a pupil find one note; give the pupil."""
    pupil = studio.pupil(nickname)
    drill = PlayedDrill(TREBLE_G)
    drill.play(67)
    recorder = Recorder(studio, pupil, FIVE, 0, SessionClock(), "simulated")
    for effect in drill.effects:
        recorder.carry_out(effect)
    recorder.close()
    return pupil


def test_a_new_pupil_has_a_folder_for_sessions_and_none_yet(tmp_path):
    studio = Studio(tmp_path / "studio")
    assert studio.pupils() == ()
    pupil = studio.pupil("Robin")
    assert pupil.sessions_folder == tmp_path / "studio" / "Robin" / "sessions"
    assert pupil.sessions_folder.is_dir()
    assert pupil.session_files() == ()
    assert list(pupil.responses()) == []
    assert studio.pupils() == (pupil,)


def test_what_the_studio_makes_is_the_owners_alone(tmp_path):
    before = os.umask(0)
    try:
        studio = Studio(tmp_path / "deep" / "studio")
        pupil = practise(studio)
        studio.remember_piano("upright", 0)
    finally:
        os.umask(before)
    for folder in (studio.folder, pupil.folder, pupil.sessions_folder):
        assert mode(folder) == 0o700
    for file in (studio.folder / "pianos.json", *pupil.session_files()):
        assert mode(file) == 0o600


def test_a_pupil_is_found_again_however_the_nickname_is_capitalised(tmp_path):
    studio = Studio(tmp_path)
    robin = practise(studio)
    assert studio.pupil("ROBIN") == robin
    assert studio.pupil(" robin ") == robin
    assert len(studio.pupils()) == 1


def test_pupils_come_in_the_order_of_their_nicknames(tmp_path):
    studio = Studio(tmp_path)
    for nickname in ("Wren", "Finch", "Robin"):
        studio.pupil(nickname)
    (tmp_path / "notes of the teacher").mkdir()
    assert [pupil.nickname for pupil in studio.pupils()] == ["Finch", "Robin", "Wren"]


@pytest.mark.parametrize(
    "text",
    ["Robin", "Zoë", "Anna-Lena", "O'Wren", "王", "R2", "little_owl", "हिन्दी", "नन्हा", "क्\u200dष"],
)
def test_a_nickname_may_have_the_letters_of_any_language(text):
    assert checked_nickname(f" {text}  ") == text


@pytest.mark.parametrize(
    "text",
    ["", "   ", "a/b", "..", ".", "a\\b", "a\nb", "CON", "nul", "Com1", "LPT9", "a:b", "x" * 25,
     "a.b", "*", "\x00", "☺", "a\u200bb", "a\u200db", "COM¹", "lpt³", "\u0301a"],
)  # fmt: skip
def test_what_could_not_name_a_folder_everywhere_is_refused_in_one_sentence(text, tmp_path):
    with pytest.raises(StudioError) as refusal:
        Studio(tmp_path).pupil(text)
    assert str(refusal.value) == (
        f"{text!r} cannot be a nickname: use 1 to 24 letters, digits or spaces, and no real full "
        "name"
    )
    assert list(tmp_path.iterdir()) == []


@given(st.text(max_size=30))
def test_whatever_is_typed_is_refused_or_names_one_folder_inside_the_studio(text):
    try:
        nickname = checked_nickname(text)
    except NicknameError:
        return
    assert 0 < len(nickname) <= LONGEST_NICKNAME
    assert checked_nickname(nickname) == nickname
    assert Path("studio", nickname).parent == Path("studio")
    assert nickname not in (".", "..")


def test_a_letter_typed_in_two_ways_is_one_pupil(tmp_path):
    studio = Studio(tmp_path)
    assert studio.pupil("Zoe\u0308") == studio.pupil("Zo\u00eb")


def test_a_file_in_the_place_of_the_studio_is_refused_in_one_sentence(tmp_path):
    taken = tmp_path / "taken"
    taken.write_text("a letter")
    with pytest.raises(StudioError) as refusal:
        Studio(taken).pupil("Robin")
    assert str(refusal.value).startswith(f"{taken / 'Robin'}: this folder cannot be made (")
    assert str(refusal.value).endswith("; name another folder")
    assert taken.read_text() == "a letter"


def test_the_answers_of_all_readable_sessions_are_a_pupils_history(tmp_path):
    studio = Studio(tmp_path)
    pupil = practise(studio)
    practise(studio)
    (pupil.sessions_folder / "damaged.jsonl").write_bytes(b"\x00\xff")
    (pupil.sessions_folder / "folder.jsonl").mkdir()
    (pupil.sessions_folder / "notes.txt").write_text("not a session")
    assert len(pupil.session_files()) == 4
    assert [r.card for r in pupil.responses()] == [TREBLE_G, TREBLE_G]


def test_sessions_come_oldest_first(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    names = ["2025-12-31T23-59-59_b.jsonl", "2026-03-02T09-00-00_c.jsonl",
             "2026-03-02T16-30-05_a.jsonl"]  # fmt: skip
    for name in reversed(names):
        (pupil.sessions_folder / name).touch()
    assert [path.name for path in pupil.session_files()] == names


def test_pianos_are_remembered_with_their_shifts_the_last_used_one_last(tmp_path):
    studio = Studio(tmp_path)
    assert studio.piano_shifts() == {}
    studio.remember_piano("upright", 0)
    studio.remember_piano("Klavier ♯2", -12)
    studio.remember_piano("upright", 2)
    assert list(studio.piano_shifts().items()) == [("Klavier ♯2", -12), ("upright", 2)]


@pytest.mark.parametrize(
    "content", ["", "{", "[]", "null", '{"upright": "far"}', '{"upright": true}', "\x00"]
)
def test_a_damaged_memory_of_pianos_is_no_memory(content, tmp_path):
    studio = Studio(tmp_path)
    (tmp_path / "pianos.json").write_text(content)
    assert studio.piano_shifts() == {}
    studio.remember_piano("upright", 12)
    assert studio.piano_shifts() == {"upright": 12}


def test_a_small_file_that_cannot_take_its_place_leaves_nothing_behind(tmp_path):
    path = tmp_path / "pianos.json"
    path.mkdir()
    with pytest.raises(IsADirectoryError):
        replace_privately(path, "{}")
    assert list(tmp_path.iterdir()) == [path]


def test_the_studio_lies_where_the_platform_keeps_a_programs_data(monkeypatch, tmp_path):
    # XDG Base Directory Specification: $XDG_DATA_HOME holds user-specific data files.
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert default_folder() == tmp_path / "landmark-drills"


def test_an_exact_nickname_comes_before_one_that_differs_by_case(tmp_path):
    for name in ("ROBIN", "robin"):
        (tmp_path / name / "sessions").mkdir(parents=True)
    studio = Studio(tmp_path)
    assert studio.known_pupil("robin").folder.name == "robin"
    assert studio.known_pupil("ROBIN").folder.name == "ROBIN"
    assert studio.pupil("robin").folder.name == "robin"


def test_gross_with_one_letter_and_with_two_are_two_pupils(tmp_path):
    studio = Studio(tmp_path)
    assert studio.pupil("Groß") != studio.pupil("Gross")


def test_a_folder_written_as_another_system_writes_it_is_the_same_pupils(tmp_path):
    # HFS+ stores names decomposed (Apple Technical Note TN1150; from memory).
    folder = tmp_path / "Zoe\u0308" / "sessions"
    folder.mkdir(parents=True)
    studio = Studio(tmp_path)
    (folder.parent / "Zoe\u0308.settings.toml").write_text("minutes = 12\n")
    zoe = studio.pupil("Zo\u00eb")
    assert zoe.sessions_folder == folder
    assert zoe.nickname == "Zo\u00eb"
    assert len(studio.pupils()) == 1
    assert settings_of(zoe).minutes == 12


@pytest.mark.skipif(sys.platform == "win32", reason="names there are always text")
def test_a_folder_whose_name_is_no_text_is_nobodys(tmp_path):
    for name in (b"\xff\xfe", b"a\x1b[31m", b"Robin"):
        (tmp_path / os.fsdecode(name) / "sessions").mkdir(parents=True)
    assert [pupil.nickname for pupil in Studio(tmp_path).pupils()] == ["Robin"]


def test_names_stand_as_in_a_dictionary(tmp_path):
    studio = Studio(tmp_path)
    for name in ("Zoë", "Ärmel", "robin", "Arne", "Finch 10", "Finch 9"):
        studio.pupil(name)
    order = ["Ärmel", "Arne", "Finch 9", "Finch 10", "robin", "Zoë"]
    assert [pupil.nickname for pupil in studio.pupils()] == order


def test_who_is_forgotten_while_she_practises_stays_forgotten(tmp_path):
    studio = Studio(tmp_path)
    pupil = studio.pupil("Robin")
    drill = PlayedDrill(TREBLE_G)
    recorder = Recorder(studio, pupil, FIVE, 0, SessionClock(), "simulated")
    for effect in drill.effects:
        recorder.carry_out(effect)
    forget(pupil)
    before = len(drill.effects)
    drill.play(67)
    with pytest.raises(RecordingError, match="Robin was removed meanwhile"):
        for effect in drill.effects[before:]:
            recorder.carry_out(effect)
    with pytest.raises(RecordingError):
        recorder.close()
    assert studio.pupils() == ()
    assert not any("robin" in str(path).lower() for path in tmp_path.rglob("*"))
    again = practise(studio)
    assert len(again.session_files()) == 1
