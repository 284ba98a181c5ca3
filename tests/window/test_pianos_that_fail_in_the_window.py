"""Pianos that vanish, stand in, flood and babble, at real ports and in the real window."""

import os
import signal
import threading
import time

import pytest

from drills.piano.connection import LONGEST_SILENCE
from drills.storage.session_file import read_session
from drills.window.suspend_detector import STOPPED_MS
from tests.window.test_practice_in_the_window import practise, tap  # noqa: F401

all_faults = pytest.mark.skipif(
    os.environ.get("LANDMARK_DRILLS_ALL_FAULTS") != "1",
    reason="slow; python -m tests.bench.faults runs it",
)
FLOOD_SECONDS = 3
FLOOD_RATE = 3000
"""Messages a second: nearly three times what a MIDI cable can carry (31 250 baud)."""


def tuned(practice, piano):
    """Answer the question for middle C; give the card that follows."""
    practice.wait_for("card")
    time.sleep(0.3)
    tap(piano, 60)
    return practice.wait_for("card")


def answered(practice, piano, card):
    time.sleep(0.3)
    tap(piano, card["target"])
    return practice.wait_for("answer", id=card["id"], verdict="exact")


def test_a_piano_replaced_by_another_keeps_the_card_and_asks_the_new_one_for_middle_c(
    practise,  # noqa: F811
    scripted_piano,
    new_piano,
):
    practice = practise()
    card = tuned(practice, scripted_piano)
    scripted_piano.close()
    practice.wait_for("piano", change="lost")
    other = new_piano()
    practice.wait_for("piano", change="found", port=other.name)
    assert practice.wait_for("card")["target"] == 60
    time.sleep(0.3)
    tap(other, 60)
    again = practice.wait_for("card")
    assert again["id"] == card["id"]
    assert answered(practice, other, again)["why_not"] == "piano lost"
    practice.close()


@all_faults
def test_a_second_piano_beside_the_one_that_is_played_changes_nothing(
    practise,  # noqa: F811
    scripted_piano,
    new_piano,
):
    practice = practise()
    card = tuned(practice, scripted_piano)
    other = new_piano()
    time.sleep(1.5)
    tap(other, card["target"] + 1)
    answer = answered(practice, scripted_piano, card)
    assert (answer["attempt"], answer["counted"]) == (1, True)
    practice.close()


@all_faults
def test_off_for_a_while_costs_the_card_its_count_and_the_next_one_nothing(
    practise,  # noqa: F811
    scripted_piano,
    new_piano,
):
    practice = practise()
    card = tuned(practice, scripted_piano)
    name = scripted_piano.name.split(":")[0]
    scripted_piano.close()
    practice.wait_for("piano", change="lost")
    time.sleep(5)
    piano = new_piano(name)
    practice.wait_for("piano", change="found")
    assert answered(practice, piano, card)["why_not"] == "piano lost"
    card = practice.wait_for("card")
    assert answered(practice, piano, card)["counted"]
    practice.close()


def test_a_flood_loses_no_key_and_the_pupil_goes_on_after_it(practise, scripted_piano):  # noqa: F811
    practice = practise()
    card = tuned(practice, scripted_piano)
    # Keys that no card asks for, at the very end of the piano.
    sent, begun = 0, time.monotonic()
    while (now := time.monotonic() - begun) < FLOOD_SECONDS:
        while sent < FLOOD_RATE * now:
            scripted_piano.send([0x90, 21 + sent % 2, 1 + 63 * (sent % 4 < 2)])
            scripted_piano.send([0x80, 21 + sent % 2, 64])
            sent += 2
        time.sleep(0.001)
    answer = answered(practice, scripted_piano, card)
    assert answer["played"] == card["target"]
    keys = [line for line in practice.lines() if line["event"] == "key" and line["key"] in (21, 22)]
    assert len(keys) == sent
    practice.close()


def test_garbage_and_long_exclusive_messages_do_no_harm(practise, scripted_piano):  # noqa: F811
    practice = practise()
    card = tuned(practice, scripted_piano)
    for garbage in ([0xF4], [0xF5, 1], [0x00, 0x7F], [0xF7], [0xC0], [0x90], [0x90, 60]):
        scripted_piano.send(garbage)
    for _ in range(500):
        scripted_piano.send([0xF0, *[0x55] * 250])
    scripted_piano.send([0xF7])
    answer = answered(practice, scripted_piano, card)
    assert (answer["attempt"], answer["counted"]) == (1, True)
    practice.close()


@all_faults
def test_an_exclusive_message_without_end_swallows_keys_only_until_the_piano_was_silent(
    practise,  # noqa: F811
    scripted_piano,
):
    practice = practise()
    card = tuned(practice, scripted_piano)
    scripted_piano.send([0xF0, *[0x55] * 250])
    tap(scripted_piano, card["target"])
    time.sleep(LONGEST_SILENCE / 1e9 + 2)
    assert answered(practice, scripted_piano, card)["why_not"] == "pause"
    practice.close()


def test_keys_that_are_never_let_up_do_not_stand_in_the_way(practise, scripted_piano):  # noqa: F811
    practice = practise()
    card = tuned(practice, scripted_piano)
    for _ in range(3):
        time.sleep(0.3)
        scripted_piano.press(card["target"])
        answer = practice.wait_for("answer", id=card["id"])
        assert (answer["verdict"], answer["counted"]) == ("exact", True)
        card = practice.wait_for("card")
    practice.close()


@all_faults
def test_a_machine_that_stood_still_in_mid_card_does_not_count_the_card(
    practise,  # noqa: F811
    scripted_piano,
):
    practice = practise()
    card = tuned(practice, scripted_piano)
    time.sleep(0.2)
    os.kill(practice.process.pid, signal.SIGSTOP)
    time.sleep(STOPPED_MS / 1000 + 0.5)
    os.kill(practice.process.pid, signal.SIGCONT)
    stood = practice.wait_for("machine", what="stood still")
    assert stood["ms"] > STOPPED_MS
    assert answered(practice, scripted_piano, card)["why_not"] == "stood still"
    practice.close()


@all_faults
def test_a_window_that_is_killed_has_kept_every_answer(practise, scripted_piano):  # noqa: F811
    practice = practise()
    card = tuned(practice, scripted_piano)
    for _ in range(3):
        answered(practice, scripted_piano, card)
        card = practice.wait_for("card")
    threading.Timer(0.05, practice.process.kill).start()
    practice.process.wait()
    session = read_session(practice.path)
    assert len(session.responses) == 3
    again = practise(seed=2)
    again.wait_for("card")
    again.close()
