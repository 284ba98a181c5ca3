"""Several keys in one touch, and keys that come too early."""

import pytest

from drills.cards.help import Help
from drills.sessions.counting import TOO_SOON_MS
from drills.sessions.device_records import KeyMovedRecord
from drills.sessions.events import Begin, KeyPressed
from drills.sessions.timed_session import SETTLE_MS
from drills.sessions.view import Phase
from landmarks.answer import Verdict
from tests.scripted_drill import BASS_F, TREBLE_G, PlayedDrill

G4 = 67


def written(drill):
    return [(a.verdict, a.played, a.counted, a.why_not) for a in drill.answers]


@pytest.mark.parametrize("neighbour", [65, 66, 68, 69], ids=["F", "F sharp", "A flat", "A"])
@pytest.mark.parametrize("first", ["neighbour", "right key"])
def test_a_brushed_neighbour_is_written_and_the_right_key_counts(neighbour, first):
    drill = PlayedDrill(TREBLE_G)
    drill.play(*((neighbour, G4) if first == "neighbour" else (G4, neighbour)))
    assert written(drill) == [
        (Verdict.BRUSHED, neighbour, False, "brushed"),
        (Verdict.EXACT, G4, True, None),
    ]
    assert drill.view.phase is Phase.RIGHT
    assert [(r.correct, r.played) for r in drill.planner.heard] == [(True, G4)]


def test_the_time_of_a_brushed_answer_is_that_of_the_right_key():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(69, G4, apart=30)
    drill.wait(100)
    assert [answer.ms for answer in drill.answers] == [1000, 1030]
    assert drill.planner.heard[0].seconds == 1.03


@pytest.mark.parametrize(
    "keys", [(65, 67, 69), (67, 71), (60, 64), (72, 67)], ids=["C1", "third", "third off", "leap"]
)
def test_a_cluster_counts_neither_for_nor_against_the_pupil(keys):
    drill = PlayedDrill(TREBLE_G)
    drill.play(*keys)
    assert written(drill) == [(Verdict.CLUSTER, keys[0], False, "cluster")]
    assert drill.view.answer.verdict is Verdict.CLUSTER
    assert drill.view.phase is Phase.ASKED
    assert drill.planner.heard == []


def test_clusters_give_no_help_away_since_nothing_was_misread():
    drill = PlayedDrill(TREBLE_G)
    for _ in range(3):
        drill.play(65, 69)
    drill.play(65)
    assert drill.view.help is Help.NONE
    drill.play(65)
    assert drill.view.help is Help.LANDMARK
    drill.play(G4)
    assert drill.view.phase is Phase.RIGHT


def test_what_follows_a_cluster_is_a_later_attempt():
    drill = PlayedDrill(TREBLE_G)
    drill.play(65, 67, 69)
    drill.play(G4)
    assert written(drill)[-1] == (Verdict.EXACT, G4, False, "later attempt")
    assert drill.planner.heard == []


@pytest.mark.parametrize(
    ("later", "verdicts"),
    [
        (0.0, ["brushed", "exact"]),
        (SETTLE_MS - 0.001, ["brushed", "exact"]),
        (SETTLE_MS, ["step", "exact"]),
        (SETTLE_MS + 0.001, ["step", "exact"]),
    ],
)
def test_keys_within_the_settle_time_are_one_touch_and_from_its_end_on_two(later, verdicts):
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(69, G4, apart=later)
    drill.wait(100)
    assert [answer.verdict for answer in drill.answers] == verdicts


def test_the_settle_time_runs_from_the_first_key_of_a_touch():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(69, 71, G4, apart=SETTLE_MS * 0.6)
    drill.wait(100)
    assert [(a.verdict, a.played) for a in drill.answers] == [("cluster", 69), ("exact", G4)]


def test_a_touch_is_judged_when_it_has_settled_and_not_before():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(G4)
    assert drill.drill.due == 1000 + SETTLE_MS
    drill.wait(SETTLE_MS - 0.5)
    assert drill.answers == []
    drill.wait(0.5)
    assert [answer.ms for answer in drill.answers] == [1000]


def test_a_key_that_bounces_is_one_key():
    drill = PlayedDrill(TREBLE_G)
    drill.wait(1000)
    drill.press(G4)
    drill.t += 8
    drill.release(G4)
    drill.t += 8
    drill.press(G4)
    drill.wait(100)
    assert written(drill) == [(Verdict.EXACT, G4, True, None)]
    assert sum(isinstance(r, KeyMovedRecord) for r in drill.records) == 3


@pytest.mark.parametrize(
    ("after", "why_not"),
    [(0.0, "too soon"), (TOO_SOON_MS - 0.001, "too soon"), (TOO_SOON_MS, None)],
)
def test_an_answer_begun_before_the_card_could_be_seen_does_not_count(after, why_not):
    drill = PlayedDrill(TREBLE_G)
    drill.play(G4, after=after)
    assert written(drill) == [(Verdict.EXACT, G4, why_not is None, why_not)]
    assert drill.view.phase is Phase.RIGHT


def test_a_wrong_key_that_came_too_soon_is_not_held_against_the_answer_that_follows():
    drill = PlayedDrill(TREBLE_G)
    drill.play(72, after=50)
    assert drill.view.answer is None
    drill.play(G4, after=900)
    assert written(drill) == [
        (Verdict.LEAP, 72, False, "too soon"),
        (Verdict.EXACT, G4, True, None),
    ]
    assert [answer.attempt for answer in drill.answers] == [1, 1]
    assert [r.seconds for r in drill.planner.heard] == [1.05]


def test_a_key_pressed_before_the_card_was_on_the_screen_is_only_logged():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(G4)
    drill.wait(3000)
    assert drill.view.card == BASS_F
    drill.press(53)
    drill.wait(300)
    drill.look()
    drill.wait(100)
    assert [a.id for a in drill.answers] == ["landmark/treble/G4"]
    assert [r.key for r in drill.records if isinstance(r, KeyMovedRecord) and r.on] == [G4, 53]
    drill.play(53)
    assert written(drill)[-1] == (Verdict.EXACT, 53, True, None)


def test_a_key_whose_own_time_is_before_the_card_is_only_logged_even_if_it_arrives_later():
    drill = PlayedDrill(TREBLE_G, begun=False)
    drill.t = 100
    drill.feed(Begin())
    drill.look()
    drill.feed(KeyPressed(G4), 99.9)
    drill.wait(1000)
    assert drill.answers == []
    drill.feed(KeyPressed(G4), 1100)
    drill.wait(200)
    assert [answer.ms for answer in drill.answers] == [1000]


def test_a_key_pressed_while_the_found_note_is_looked_at_is_only_logged():
    drill = PlayedDrill(TREBLE_G, BASS_F)
    drill.play(G4)
    drill.play(72, after=200)
    assert [answer.played for answer in drill.answers] == [G4]
    assert drill.view.phase is Phase.RIGHT
