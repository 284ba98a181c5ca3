import os
import shutil
from datetime import timedelta
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drills.cards.card import default_cards, parse_card
from drills.reports.review_text import left_out_sentence
from drills.review.collect import LATEST_ANSWERS, collect
from drills.storage.session_file import read_session
from drills.storage.studio import Studio

G4 = "landmark/treble/G4"

answers = st.tuples(
    st.sampled_from([card.id for card in default_cards()]),
    st.floats(0.2, 40).map(lambda seconds: round(seconds, 3)),
    st.sampled_from([True, "step", "clef", 60]),
)
uncounted = st.tuples(
    st.just(G4), st.just(50.0), st.just(True), st.sampled_from(["pause", "brushed"])
)


@settings(deadline=None, max_examples=30, suppress_health_check=list(HealthCheck))
@given(st.lists(st.lists(st.one_of(answers, uncounted), max_size=8), min_size=1, max_size=6))
def test_what_is_collected_is_what_reading_the_files_gives(new_notebook, sessions):
    notebook = new_notebook()
    paths = [notebook.session(*session) for session in sessions]
    expected = [
        (response.card, response.at, response.seconds, response.played, response.correct)
        for path in paths
        for response in read_session(path).responses
    ]
    record = notebook.record()
    collected = [
        (found.card, answer.at, answer.seconds, answer.played, answer.right)
        for found in record.cards
        for answer in found.latest
    ]
    assert sorted(collected) == sorted(expected)
    assert sum(found.counted for found in record.cards) == len(expected)
    given_answers = sum(len(session) for session in sessions)
    left_out = sum(sum(found.left_out.values()) for found in record.cards)
    assert left_out == given_answers - len(expected)
    assert record.session_count == len(sessions)


def test_only_the_latest_answers_of_a_card_are_kept_and_all_are_counted(notebook):
    for session in range(30):
        notebook.session(*[(G4, 1 + session / 10, True)] * 5)
    (found,) = notebook.record().cards
    assert found.counted == 150
    assert len(found.latest) == LATEST_ANSWERS
    assert found.latest[0].seconds == 1 + 6 / 10


def test_a_session_cut_short_gives_every_whole_line(notebook):
    path = notebook.session(*[(G4, 1.5, True)] * 4)
    whole = path.read_bytes()
    path.write_bytes(whole[: whole.rindex(b'{"event":"answer"') + 20])
    (found,) = notebook.record().cards
    assert found.counted == 3


def test_lines_of_a_later_version_are_passed_over(notebook):
    path = notebook.session((G4, 1.5, True))
    added = b'{"event":"weather","t":1.0}\n{"event":"answer","t":2.0,"id":"dance/treble/G4"}\n'
    path.write_bytes(path.read_bytes() + added)
    (found,) = notebook.record().cards
    assert found.counted == 1


def test_lines_written_in_another_order_are_read_all_the_same(notebook):
    path = notebook.session()
    line = (
        '{ "t": 900.0, "ms": 900.0, "counted": true, "id": "landmark/treble/G4", '
        '"played": 67, "attempt": 1, "hints": 0, "verdict": "exact", "event": "answer" }\n'
    )
    path.write_text(path.read_text() + line)
    (found,) = notebook.record().cards
    assert found.latest[0].seconds == 0.9


def test_a_copy_beside_its_original_is_not_counted_twice(notebook):
    path = notebook.session((G4, 1.5, True), (G4, 1.5, True))
    whole = path.read_bytes()
    path.with_name(f"{path.stem} (1).jsonl").write_bytes(whole[:-150])
    record = notebook.record()
    assert record.cards[0].counted == 2
    assert record.session_count == 1


def test_a_file_that_is_no_session_is_named_and_passed_over(notebook):
    notebook.session((G4, 1.5, True))
    (notebook.folder / "notes.jsonl").write_text("buy manuscript paper\n")
    record = notebook.record()
    assert record.unreadable == ("notes.jsonl",)
    assert record.cards[0].card == parse_card(G4)


def test_a_review_of_an_earlier_day_knows_nothing_of_later_sessions(notebook):
    notebook.session((G4, 1.5, True))
    evening = notebook.started + timedelta(hours=5)
    notebook.session((G4, 9.5, True))
    (found,) = notebook.record(until=evening).cards
    assert [answer.seconds for answer in found.latest] == [1.5]


def test_what_leads_up_to_reading_is_not_taken_for_reading(notebook):
    prepared = (
        "contour/treble/G4/one-line/up,down", "key/treble/D4/name", "step/treble/A4/beside-G4",
    )  # fmt: skip
    notebook.session(*[(card_id, 0.5, True) for card_id in prepared], (G4, 2.0, True))
    record = notebook.record()
    assert [found.card.id for found in record.cards] == [G4]
    assert (record.sessions[0].answers, record.sessions[0].median_seconds) == (1, 2.0)


def test_times_that_a_busy_computer_read_late_are_told_in_the_review(notebook):
    path = notebook.session((G4, 1.0, True), (G4, 1.2, True))
    assert "too busy" not in left_out_sentence(notebook.review())
    late = b'{"event":"machine","t":5.0,"what":"read late","ms":43.2}\n'
    path.write_bytes(path.read_bytes() + late + late.replace(b"read late", b"stood still"))
    notebook.session((G4, 1.0, True))
    assert left_out_sentence(notebook.review()).endswith(
        "In 1 of the latest 2 sessions the computer was too busy to time every key well: some "
        "times may be up to 0.04 s too long."
    )


def test_one_file_that_cannot_be_read_keeps_no_other_from_being_read(tmp_path):
    pupil = Studio(tmp_path).pupil("Robin")
    good = Path(__file__).parents[3] / "sample_sessions" / "Comet" / "sessions"
    for path in sorted(good.iterdir())[:2]:
        shutil.copy(path, pupil.sessions_folder)
    os.mkfifo(pupil.sessions_folder / "2026-01-01T00-00-00_pipe.jsonl")
    (pupil.sessions_folder / "2026-01-02T00-00-00_folder.jsonl").mkdir()
    (pupil.sessions_folder / "2026-01-03T00-00-00_gone.jsonl").symlink_to(tmp_path / "nowhere")
    record = collect("Robin", pupil.session_files())
    assert record.session_count == 2
    assert [name[20:] for name in record.unreadable] == ["pipe.jsonl", "folder.jsonl", "gone.jsonl"]
