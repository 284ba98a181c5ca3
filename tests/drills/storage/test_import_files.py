import random
import stat
import tempfile
import zipfile
from contextlib import suppress
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.cards.card import default_cards
from drills.sessions.records import AnsweredRecord, EndedRecord, Header
from drills.storage import import_files, zip_reader
from drills.storage.import_files import Taken, files_in, take_in_files
from drills.storage.landmark_set_file import copy_set, landmarks_named
from drills.storage.plan import home_plan, plan_of, write_plan
from drills.storage.pupil_export import forget, pack_pupil
from drills.storage.session_file import SessionWriter, read_session
from drills.storage.settings import Settings, settings_of, write_settings
from drills.storage.studio import Studio

START = datetime(2026, 3, 2, 16, tzinfo=UTC)
CARDS = default_cards()


def write_session(folder, number, pupil="Fern", answers=5):
    folder.mkdir(parents=True, exist_ok=True)
    writer = SessionWriter(
        folder,
        Header(
            session=f"{number:08x}-0000-4000-8000-000000000000", pupil=pupil,
            started=START + timedelta(days=number), clock_ns=0, program="0", port=None,
            clock="simulated", set="five", seed=0,
        ),
    )  # fmt: skip
    for n in range(answers):
        writer.append(
            AnsweredRecord(
                t=1000.0 * n, id=CARDS[n % 3].id, verdict="exact", played=CARDS[n % 3].key,
                ms=900.0, attempt=1, hints=0, counted=True,
            )
        )  # fmt: skip
    writer.append(EndedRecord(t=1000.0 * answers, why="done"))
    writer.close()
    return writer.path


@pytest.fixture
def home(tmp_path):
    for number in range(4):
        write_session(tmp_path / "home", number)
    return tmp_path / "home"


@pytest.fixture
def studio(tmp_path):
    return Studio(tmp_path / "studio")


def contents(studio, nickname="Fern"):
    files = studio.pupil(nickname).session_files()
    return {path.name: path.read_bytes() for path in files}


def test_sessions_come_in_byte_for_byte(home, studio):
    summary = take_in_files(files_in([home]), studio)
    assert summary.sessions[Taken.NEW] == 4
    assert contents(studio) == {path.name: path.read_bytes() for path in home.iterdir()}


def test_what_came_in_can_be_read_by_its_owner_only(home, studio):
    take_in_files(files_in([home]), studio)
    for path in studio.pupil("Fern").session_files():
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_gathering_twice_changes_nothing(home, studio):
    take_in_files(files_in([home]), studio)
    before = contents(studio)
    summary = take_in_files(files_in([home, home]), studio)
    assert summary.sessions == {Taken.KNOWN: 8}
    assert contents(studio) == before


def test_a_renamed_copy_is_known_again(home, studio):
    take_in_files(files_in([home]), studio)
    path = next(home.iterdir())
    path.rename(home / "from the telephone.txt")
    summary = take_in_files(files_in([home]), studio)
    assert summary.sessions == {Taken.KNOWN: 4}


def test_a_file_cut_short_gives_up_every_whole_line(home, studio):
    path = sorted(home.iterdir())[0]
    whole = path.read_bytes()
    path.write_bytes(whole[:-70])
    summary = take_in_files([path], studio)
    assert summary.cut_short == 1
    taken = contents(studio)[path.name]
    assert whole.startswith(taken)
    assert taken.count(b"\n") == whole[:-70].count(b"\n")


def test_a_longer_copy_takes_the_place_of_a_cut_one(home, studio):
    path = sorted(home.iterdir())[0]
    whole = path.read_bytes()
    path.write_bytes(whole[:-70])
    take_in_files([path], studio)
    path.write_bytes(whole)
    assert take_in_files([path], studio).sessions == {Taken.LONGER: 1}
    assert contents(studio)[path.name] == whole


def test_a_cut_copy_never_takes_the_place_of_a_longer_one(home, studio):
    path = sorted(home.iterdir())[0]
    whole = path.read_bytes()
    take_in_files([path], studio)
    path.write_bytes(whole[:-70])
    assert take_in_files([path], studio).sessions == {Taken.KNOWN: 1}
    assert contents(studio)[path.name] == whole


@settings(max_examples=40)
@given(st.data())
def test_nothing_is_lost_and_nothing_doubled_whatever_copies_come_in_whatever_order(
    tmp_path_factory, data
):
    folder = tmp_path_factory.mktemp("copies")
    path = write_session(folder / "first", 0, answers=6)
    lines = path.read_bytes().splitlines(keepends=True)
    kept = data.draw(
        st.lists(st.sets(st.integers(1, len(lines) - 1)), min_size=1, max_size=4), "lines kept"
    )
    copies = []
    for number, chosen in enumerate(kept):
        copy = folder / f"copy {number}.jsonl"
        copy.write_bytes(lines[0] + b"".join(lines[n] for n in sorted(chosen)))
        copies.append(copy)
    data.draw(st.randoms(use_true_random=False)).shuffle(copies)
    studio = Studio(folder / "studio")
    take_in_files(copies, studio)
    union = sorted(set().union(*kept))
    (taken,) = contents(studio).values()
    assert taken == lines[0] + b"".join(lines[n] for n in union)


def test_the_order_of_files_does_not_matter(home, tmp_path):
    paths = files_in([home])
    random.Random(3).shuffle(paths)
    first, second = Studio(tmp_path / "a"), Studio(tmp_path / "b")
    take_in_files(paths, first)
    take_in_files(reversed(paths), second)
    assert contents(first) == contents(second)


def test_each_session_goes_to_its_own_pupil(tmp_path, studio):
    write_session(tmp_path / "home", 1, "Fern")
    write_session(tmp_path / "home", 2, "Moss")
    summary = take_in_files(files_in([tmp_path / "home"]), studio)
    assert summary.new_of == {"Fern": 1, "Moss": 1}
    assert [pupil.nickname for pupil in studio.pupils()] == ["Fern", "Moss"]


def test_other_files_are_passed_over_and_said(home, studio):
    (home / "shopping.txt").write_text("rosin\n")
    (home / "broken.jsonl").write_bytes(b"\xff\xfe\x00")
    summary = take_in_files(files_in([home]), studio)
    assert summary.passed_over == 1
    assert summary.refused == ["broken.jsonl: this is not a session file; leave it out."]
    assert summary.sessions[Taken.NEW] == 4


def test_a_nickname_that_would_leave_the_studio_is_refused(tmp_path, studio):
    path = write_session(tmp_path / "home", 1, "../../elsewhere")
    summary = take_in_files([path], studio)
    assert len(summary.refused) == 1
    assert "cannot be a nickname" in summary.refused[0]
    assert not (tmp_path / "elsewhere").exists()


def test_what_was_gathered_reads_as_what_was_played(home, studio):
    take_in_files(files_in([home]), studio)
    played = [read_session(path).responses for path in sorted(home.iterdir())]
    assert [read_session(path).responses for path in studio.pupil("Fern").session_files()] == played


def test_a_home_plan_comes_in_and_the_later_one_holds(tmp_path, studio):
    early = home_plan("Fern", START, CARDS[:3], 5)
    late = home_plan("Fern", START + timedelta(days=7), CARDS[2:6], 10)
    for folder in ("late", "early"):
        (tmp_path / folder).mkdir()
    late_path = write_plan(late, tmp_path / "late")
    early_path = write_plan(early, tmp_path / "early")
    assert take_in_files([early_path], studio).plans == {Taken.NEW: 1}
    assert take_in_files([late_path], studio).plans == {Taken.NEW: 1}
    assert take_in_files([early_path], studio).plans == {Taken.KNOWN: 1}
    assert plan_of(studio.pupil("Fern")) == late


def test_the_summary_is_told_in_plain_words(home, studio):
    (home / "shopping.txt").write_text("rosin\n")
    told = list(take_in_files(files_in([home]), studio).sentences())
    assert told == [
        "Sessions: 4 new, 0 longer than before, 0 already here.",
        "Fern: 4 new.",
        "Other files, passed over: 1.",
    ]


def zipped(folder, path):
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in files_in([folder]):
            archive.write(file, file.relative_to(folder.parent))
    return path


def test_sessions_sent_as_a_zip_file_come_in_byte_for_byte(home, studio, tmp_path):
    summary = take_in_files([zipped(home, tmp_path / "Fern.ZIP")], studio)
    assert summary.sessions == {Taken.NEW: 4}
    assert contents(studio) == {path.name: path.read_bytes() for path in home.iterdir()}
    assert take_in_files(files_in([tmp_path / "Fern.ZIP", home]), studio).sessions == {
        Taken.KNOWN: 8
    }


def test_one_bad_file_in_a_zip_file_keeps_no_other_from_coming_in(home, studio, tmp_path):
    (home / "a.plan.json").write_text("{")
    zipped(home, home / "inner.zip")
    summary = take_in_files([zipped(home, tmp_path / "Fern.zip")], studio)
    assert summary.sessions == {Taken.NEW: 4}
    assert summary.passed_over == 1
    assert [told.split(":")[0] for told in summary.refused] == ["Fern.zip/a.plan.json"]


def test_a_name_in_a_zip_file_that_would_leave_the_studio_does_not(home, studio, tmp_path):
    session = next(home.iterdir())
    with zipfile.ZipFile(tmp_path / "sly.zip", "w") as archive:
        for name in ("../../sly.jsonl", "/sly.jsonl", "..", "a/..", "b\\..\\c.jsonl"):
            archive.write(session, name)
    before = sorted(tmp_path.iterdir())
    summary = take_in_files([tmp_path / "sly.zip"], studio)
    assert summary.sessions == {Taken.NEW: 1, Taken.KNOWN: 1}
    assert sorted(tmp_path.iterdir()) == sorted([*before, studio.folder])
    assert list(contents(studio)) == [session.name]


@pytest.mark.parametrize(
    ("limit", "value"), [("MOST_FILES", 3), ("MOST_UNPACKED", 1000), ("LARGEST_SESSION", 100)]
)
def test_a_zip_file_beyond_all_measure_is_refused(
    home, studio, tmp_path, monkeypatch, limit, value
):
    monkeypatch.setattr(zip_reader, limit, value)
    summary = take_in_files([zipped(home, tmp_path / "huge.zip")], studio)
    assert "holds too much" in summary.refused[0]
    assert not summary.sessions


def test_a_zip_file_that_hides_its_size_is_not_read_beyond_it(home, studio, tmp_path):
    huge = tmp_path / "home" / "zeros.jsonl"
    huge.write_bytes(bytes(10**7))
    sly = bytearray(zipped(home, tmp_path / "sly.zip").read_bytes())
    told = (10**7).to_bytes(4, "little")
    assert sly.count(told) == 2
    (tmp_path / "sly.zip").write_bytes(bytes(sly).replace(told, (10).to_bytes(4, "little")))
    assert "cannot be read" in take_in_files([tmp_path / "sly.zip"], studio).refused[-1]


@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_a_damaged_zip_file_gives_whole_files_or_a_sentence(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("damaged")
    for number in range(3):
        write_session(folder / "home", number)
    whole = {path.name: path.read_bytes() for path in (folder / "home").iterdir()}
    sent = bytearray(zipped(folder / "home", folder / "sent.zip").read_bytes())
    for _ in range(data.draw(st.integers(1, 4))):
        sent[data.draw(st.integers(0, len(sent) - 1))] = data.draw(st.integers(0, 255))
    (folder / "sent.zip").write_bytes(bytes(sent[: data.draw(st.integers(0, len(sent)))]))
    studio = Studio(folder / "studio")
    summary = take_in_files([folder / "sent.zip"], studio)
    assert summary.refused or len(contents(studio)) + summary.passed_over == 3
    assert all(whole[name] == content for name, content in contents(studio).items())


def test_a_name_too_long_for_any_disk_is_left_out_and_the_rest_comes_in(home, studio, tmp_path):
    session = next(home.iterdir())
    with zipfile.ZipFile(tmp_path / "long.zip", "w") as archive:
        archive.write(session, "ü" * 140 + ".jsonl")
        archive.write(session, session.name)
    assert take_in_files([tmp_path / "long.zip"], studio).sessions == {Taken.NEW: 1}


def test_taking_in_a_zip_file_puts_nothing_beside_the_studio(home, studio, tmp_path, monkeypatch):
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))
    seen = []
    monkeypatch.setattr(
        import_files, "_unite_session", lambda *_: seen.append(list(temporary.iterdir()))
    )
    with suppress(AttributeError):
        take_in_files([zipped(home, tmp_path / "home.zip")], studio)
    assert seen
    assert not any(seen)


def test_who_is_forgotten_while_files_are_taken_in_does_not_come_back(home, studio):
    studio.pupil("Fern")
    taken = 0

    def forget_after_two():
        nonlocal taken
        taken += 1
        if taken == 2:
            forget(studio.known_pupil("Fern"))

    summary = take_in_files(sorted(home.iterdir()), studio, forget_after_two)
    assert summary.sessions == {Taken.NEW: 2}
    assert len(summary.refused) == 2
    assert "Fern was removed meanwhile" in summary.refused[0]
    assert studio.pupils() == ()
    assert take_in_files(home.iterdir(), studio).sessions == {Taken.NEW: 4}


def test_a_teachers_own_set_goes_home_with_the_pupil(studio, tmp_path):
    own = tmp_path / "mine.toml"
    own.write_text('title = "Mine"\nanchors = [{ clef = "treble", note = "G4" }]\n')
    lesson = Studio(tmp_path / "lesson").pupil("Fern")
    name = copy_set(own, lesson)
    write_settings(Settings(landmarks=name, changed=START), lesson)
    (tmp_path / "fern.zip").write_bytes(pack_pupil(lesson)[0])
    own.unlink()
    summary = take_in_files([tmp_path / "fern.zip"], studio)
    assert summary.sets == {Taken.NEW: 1}
    fern = studio.known_pupil("Fern")
    assert landmarks_named(settings_of(fern).landmarks, fern).title == "Mine"
    assert take_in_files([tmp_path / "fern.zip"], studio).sets == {Taken.KNOWN: 1}


def test_a_set_that_is_none_is_refused_in_one_sentence(studio, tmp_path):
    (tmp_path / "Fern.set.toml").write_text("anchors = 3")
    assert "Fern.set.toml" in take_in_files([tmp_path / "Fern.set.toml"], studio).refused[0]
