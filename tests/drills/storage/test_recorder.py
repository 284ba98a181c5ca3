"""The recorder: a session's file from its first record on, and what is remembered of pianos."""

import json
import shutil
import uuid
from datetime import UTC, datetime, timedelta

import pytest

from drills.app.session_clock import SessionClock
from drills.sessions.events import Begin, PianoFound
from drills.storage.recorder import Recorder, RecordingError
from drills.storage.session_file import read_session
from drills.storage.studio import Studio
from tests.scripted_drill import FIVE, TREBLE_G, PlayedDrill

CLOCK = SessionClock(datetime(2026, 3, 2, 16, 30, tzinfo=UTC), 5_000)


class Recorded:
    """A studio, a pupil and the recorder of one session."""

    def __init__(self, folder, keys_timed_by="window"):
        self.studio = Studio(folder)
        self.pupil = self.studio.pupil("Robin")
        self.recorder = Recorder(self.studio, self.pupil, FIVE, 7, CLOCK, keys_timed_by)

    def keep(self, drill):
        for effect in drill.effects:
            self.recorder.carry_out(effect)
        self.recorder.close()
        (file,) = self.pupil.session_files()
        return read_session(file)


def test_a_session_on_the_screen_says_so_in_its_header(tmp_path):
    drill = PlayedDrill(TREBLE_G)
    drill.play(67)
    header = Recorded(tmp_path).keep(drill).header
    assert (header.port, header.clock) == (None, "window")
    assert (header.pupil, header.set, header.seed) == ("Robin", "five", 7)
    assert (header.started, header.clock_ns) == (CLOCK.started, 5_000)
    assert uuid.UUID(header.session).version == 4


def test_a_session_that_begins_with_a_piano_names_it_and_its_clock_in_its_header(tmp_path):
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.feed(PianoFound("upright", "driver", 0))
    drill.feed(Begin())
    drill.look()
    drill.play(67)
    session = Recorded(tmp_path).keep(drill)
    assert (session.header.port, session.header.clock) == ("upright", "driver")
    assert session.events == tuple(drill.records)


def test_a_piano_that_comes_later_is_told_by_its_own_line(tmp_path):
    drill = PlayedDrill(TREBLE_G)
    drill.feed(PianoFound("upright", "driver", 0))
    session = Recorded(tmp_path).keep(drill)
    assert session.header.port is None
    assert session.events[-1].port == "upright"


def test_no_file_is_made_before_there_is_something_to_keep(tmp_path):
    kept = Recorded(tmp_path)
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.feed(Begin())
    for effect in drill.effects:
        kept.recorder.carry_out(effect)
    kept.recorder.close()
    assert kept.pupil.session_files() == ()


def test_a_piano_that_was_put_right_is_remembered_with_its_shift(tmp_path):
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.feed(PianoFound("upright", "driver", None))
    drill.feed(Begin())
    drill.look()
    drill.play(72)
    drill.play(72)
    kept = Recorded(tmp_path)
    kept.keep(drill)
    assert kept.studio.piano_shifts() == {"upright": 12}


def test_a_known_piano_that_is_found_becomes_the_one_used_last_and_keeps_its_shift(tmp_path):
    kept = Recorded(tmp_path)
    kept.studio.remember_piano("upright", 12)
    kept.studio.remember_piano("stage", 0)
    drill = PlayedDrill(TREBLE_G)
    drill.feed(PianoFound("upright", "driver", 12))
    kept.keep(drill)
    assert list(kept.studio.piano_shifts().items()) == [("stage", 0), ("upright", 12)]


def test_a_strange_piano_is_not_remembered_before_it_was_put_right(tmp_path):
    kept = Recorded(tmp_path)
    drill = PlayedDrill(TREBLE_G)
    drill.feed(PianoFound("upright", "driver", None))
    kept.keep(drill)
    assert kept.studio.piano_shifts() == {}


def test_a_folder_that_is_gone_is_told_in_one_sentence(tmp_path):
    kept = Recorded(tmp_path)
    shutil.rmtree(kept.pupil.folder)
    with pytest.raises(RecordingError) as trouble:
        kept.keep(PlayedDrill(TREBLE_G))
    assert str(trouble.value) == (
        f"{kept.pupil.sessions_folder}: the session cannot be written here (No such file or "
        "directory); make room or name another folder, what was written before is kept"
    )


def test_a_memory_of_pianos_that_cannot_be_written_is_told_too(tmp_path):
    kept = Recorded(tmp_path)
    (tmp_path / "pianos.json").mkdir()
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.feed(PianoFound("upright", "driver", None))
    drill.feed(Begin())
    drill.look()
    drill.play(60)
    with pytest.raises(RecordingError, match="cannot be written"):
        kept.keep(drill)


def test_the_clock_of_a_session_goes_on_from_its_start():
    clock = SessionClock()
    before, after = clock.now(), clock.now()
    assert clock.started <= before <= after
    assert after - clock.started < timedelta(minutes=1)
    assert clock.started.utcoffset() is not None


def test_the_file_says_which_version_of_the_program_wrote_it(tmp_path):
    kept = Recorded(tmp_path)
    kept.keep(PlayedDrill(TREBLE_G))
    line = json.loads(kept.pupil.session_files()[0].read_text("utf-8").splitlines()[0])
    assert line["program"][0].isdigit()
