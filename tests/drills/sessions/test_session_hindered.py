"""What hinders a session without its pupil: a machine that sleeps, keys read late, a busy piano."""

from drills.sessions.device_records import MachineNoticedRecord
from drills.sessions.events import PianoFound, PianoRefused, ReadLate, StoodStill
from drills.sessions.timed_session import LONG_STANDSTILL_MS
from drills.sessions.view import Phase
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.card_words import remark
from landmarks.names import LETTER
from tests.scripted_drill import A_ABOVE_G, TREBLE_G, PlayedDrill


def machine_lines(drill):
    return [record for record in drill.records if isinstance(record, MachineNoticedRecord)]


def test_a_card_over_a_short_sleep_stays_and_is_not_counted():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.wait(500)
    drill.feed(StoodStill(600_000.0))
    assert drill.view.card == TREBLE_G
    drill.play(67)
    assert drill.answers[0].why_not == "stood still"
    assert drill.planner.heard == []
    assert machine_lines(drill) == [MachineNoticedRecord(t=500.0, what="stood still", ms=600_000.0)]


def test_the_card_after_a_sleep_counts_again():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.feed(StoodStill(60_000.0))
    drill.play(67)
    drill.go_on()
    drill.play(69)
    assert [answer.counted for answer in drill.answers] == [False, True]


def test_a_card_not_yet_on_the_screen_counts_though_the_machine_slept_before():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.play(67)
    drill.wait(3000)
    drill.feed(StoodStill(60_000.0))
    drill.look()
    drill.play(69)
    assert drill.answers[-1].counted


def test_a_key_that_was_down_before_the_lid_was_shut_is_judged_as_it_was():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.wait(1000)
    drill.press(67)
    drill.wait(10)
    drill.feed(StoodStill(60_000.0))
    assert drill.answers[0].counted


def test_a_night_with_the_lid_shut_ends_the_session_so_that_no_answer_is_misdated():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.feed(StoodStill(LONG_STANDSTILL_MS + 1))
    assert drill.view.phase is Phase.FINISHED
    assert drill.records[-1].why == "stood still"


def test_keys_read_late_are_told_and_their_answers_stay():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.wait(1000)
    drill.press(67)
    drill.feed(ReadLate(43.21))
    drill.wait(100)
    assert machine_lines(drill) == [MachineNoticedRecord(t=1000.0, what="read late", ms=43.21)]
    assert drill.answers[0].counted


def test_a_busy_piano_is_told_until_it_is_found():
    drill = PlayedDrill(TREBLE_G, A_ABOVE_G)
    drill.feed(PianoRefused("upright"))
    assert remark(drill.view, LETTER).headline == "the piano is busy"
    drill.feed(PianoFound("upright", "driver", 0))
    assert remark(drill.view, LETTER).headline == ""


def test_what_keeps_the_piano_from_sounding_is_drawn_in_the_free_corner_of_the_card():
    drill = PlayedDrill(TREBLE_G)
    setting = PageSetting(1024, 768, True, LETTER, (TREBLE_G,))
    plain = practice_page(drill.view, setting)
    stave = next(layer for layer in plain if layer.box.height > 200 and not layer.plain_colour)
    drill.feed(PianoRefused("upright"))
    [picture] = [
        layer
        for layer in set(practice_page(drill.view, setting)) - set(plain)
        if "<text" not in layer.markup
    ]
    assert picture.box.right <= stave.box.x or picture.box.bottom <= stave.box.y
