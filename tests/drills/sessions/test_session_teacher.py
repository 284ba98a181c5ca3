"""In the lesson the teacher asks again, goes on, gives a hint, tells the answer."""

from drills.cards.help import Help
from drills.sessions.events import AskAgain, Hint, PianoFound, Skip, Tell
from drills.sessions.records import CardAskedRecord
from drills.sessions.view import Phase
from tests.scripted_drill import A_ABOVE_G, BASS_F, KEY_G, TREBLE_G, PlayedDrill

G4 = 67


def shown(drill):
    return [record.id for record in drill.records if isinstance(record, CardAskedRecord)]


def test_a_card_asked_again_is_timed_anew_and_counts_anew():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(69)
    drill.feed(AskAgain())
    assert (drill.view.card, drill.view.answer, drill.view.help) == (TREBLE_G, None, Help.NONE)
    drill.look()
    drill.play(G4, after=800)
    assert shown(drill) == [TREBLE_G.id, TREBLE_G.id]
    assert [(a.verdict, a.ms, a.attempt, a.counted) for a in drill.answers] == [
        ("step", 1000.0, 1, True), ("exact", 800.0, 1, True),
    ]  # fmt: skip


def test_a_found_note_is_asked_again_before_the_next_card_comes():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(G4)
    assert drill.view.phase is Phase.RIGHT
    drill.feed(AskAgain())
    drill.look()
    drill.wait(5000)
    assert (drill.view.card, drill.view.phase) == (TREBLE_G, Phase.ASKED)


def test_a_skipped_card_gives_way_to_the_next_and_says_nothing_of_the_pupil():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.wait(2000)
    drill.feed(Skip())
    drill.look()
    assert shown(drill) == [TREBLE_G.id, BASS_F.id]
    assert not drill.planner.heard


def test_skipping_a_found_note_goes_on_at_once():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(G4)
    drill.feed(Skip())
    assert drill.view.card == BASS_F
    assert [response.correct for response in drill.planner.heard] == [True]


def test_hints_come_one_by_one_the_landmark_and_then_the_key():
    drill = PlayedDrill(A_ABOVE_G)
    drill.feed(Hint())
    assert (drill.view.help, drill.view.landmark.target) == (Help.LANDMARK, TREBLE_G.target)
    drill.feed(Hint())
    drill.feed(Hint())
    assert drill.view.help is Help.KEY


def test_the_answer_is_told_at_once():
    drill = PlayedDrill(A_ABOVE_G)
    drill.feed(Tell())
    assert drill.view.help is Help.NAME


def test_an_answer_after_a_hint_is_kept_and_not_counted():
    drill = PlayedDrill(A_ABOVE_G)
    drill.feed(Hint())
    drill.play(69)
    assert [(a.hints, a.counted, a.why_not) for a in drill.answers] == [(1, False, "helped")]
    assert not drill.planner.heard


def test_help_that_was_not_answered_yet_still_stands_when_the_card_is_asked_again():
    drill = PlayedDrill(A_ABOVE_G, BASS_F)
    drill.feed(Tell())
    drill.feed(AskAgain())
    drill.look()
    drill.play(69)
    drill.go_on()
    drill.play(53)
    assert [(a.hints, a.why_not) for a in drill.answers] == [(0, "helped"), (0, None)]


def test_help_after_a_wrong_key_leaves_that_answer_counted():
    drill = PlayedDrill(A_ABOVE_G)
    drill.play(71)
    drill.feed(Tell())
    drill.play(69)
    assert [(a.counted, a.why_not) for a in drill.answers] == [
        (True, None), (False, "later attempt"),
    ]  # fmt: skip


def test_a_lit_key_needs_no_hint():
    drill = PlayedDrill(KEY_G)
    drill.feed(Hint())
    drill.play(G4)
    assert [answer.counted for answer in drill.answers] == [True]


def test_help_is_not_forgotten_while_a_new_piano_is_asked_for_middle_c():
    drill = PlayedDrill(A_ABOVE_G)
    drill.feed(Tell())
    drill.feed(PianoFound("upright", "driver", None))
    drill.look()
    drill.play(60)
    drill.go_on()
    drill.play(69)
    assert [answer.why_not for answer in drill.answers] == ["tuning", "helped"]


def test_a_key_still_settling_is_judged_before_the_card_goes():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.wait(1000)
    drill.press(69)
    drill.feed(Skip())
    assert [(a.id, a.verdict) for a in drill.answers] == [(TREBLE_G.id, "step")]
