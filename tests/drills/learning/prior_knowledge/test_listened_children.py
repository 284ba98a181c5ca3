"""Three invented children are listened to: their two minutes lead to three different beginnings."""

import pytest

from drills.app.listening import KeptEvidence
from drills.app.prior_knowledge import climber
from drills.learning.ladder.chooser import LadderChooser
from drills.learning.ladder.material import ladder_cards
from drills.learning.prior_knowledge.finding import QUESTION_OF, Band, Item
from drills.learning.prior_knowledge.finding_text import band_words, finding_sentences
from drills.learning.prior_knowledge.prior_knowledge import prior_knowledge_of
from drills.sessions.events import Skip
from drills.sessions.listening.parts import DISTANCES
from drills.storage.prior_knowledge_file import observations_of
from drills.storage.studio import Studio
from tests.drills.learning.ladder.test_beginners import BEFORE
from tests.drills.sessions.listening.played_listening import PlayedListening
from tests.drills.sessions.listening.test_listening import (
    EVEN,
    LONG_SHORT_SHORT_LONG,
    swaying,
)
from tests.scripted_drill import FIVE

HEARS_ALL = [None] * len(DISTANCES)
CHILDREN = {
    # An ear and a pulse: she follows any line of shapes on one stave line, eight long.
    "Finch": (EVEN, [0, 700, 1050, 1400, 2100], HEARS_ALL),
    # An ear, and no pulse or pattern yet: the same rung, short lines that go by step.
    "Snail": (swaying(0.35), [0, 400, 800], HEARS_ALL),
    # A pulse, and higher and lower are not heard yet: shapes without a stave come first.
    "Drum": (EVEN, LONG_SHORT_SHORT_LONG, [1, 1, 1, 1, 1, 1]),
}


def listen_to(name, folder):
    """Listen for two minutes and set every answer that is suggested; give what follows."""
    taps, playing, ways = CHILDREN[name]
    pupil = Studio(folder).pupil(name)
    evidence = KeptEvidence(pupil, lambda: BEFORE)
    played = PlayedListening(seed=3)
    played.keep_pulse(taps)
    played.do(Skip())
    played.show()
    played.echo(LONG_SHORT_SHORT_LONG, playing)
    played.do(Skip())
    played.show()
    played.move(ways)
    for item in Item:
        finding = played.heard(item)
        evidence.listened(finding)
        if finding.suggests is not None:
            evidence.tick(item, finding.suggests)
    seen = observations_of(pupil)
    chooser = LadderChooser(ladder_cards(FIVE), prior_knowledge_of(seen), (), (), 1, minutes=6)
    return seen, climber(seen, pupil, FIVE), prior_knowledge_of(seen), chooser


@pytest.mark.parametrize(
    ("name", "rung", "shapes", "winding", "why"),
    [
        ("Finch", "one-line", 8, True, "moves up and down with what she hears"),
        ("Snail", "one-line", 5, False, "moves up and down with what she hears"),
        ("Drum", "no-stave", 8, True, "begins at the beginning"),
    ],
)
def test_two_minutes_lead_to_different_beginnings_and_say_why(
    tmp_path, name, rung, shapes, winding, why
):
    seen, stands, brings, chooser = listen_to(name, tmp_path)
    assert (stands.stands.name, brings.line_length + 1, brings.winding) == (rung, shapes, winding)
    assert why in str(stands.why).lower()
    chooser.next(BEFORE)
    (begun,) = chooser.reached()
    assert (begun.rung, begun.by) == (rung, "beginnings")
    assert why in begun.why.lower()
    assert {each.finding.item for each in seen.heard} == set(Item)
    assert all(each.heard == BEFORE for each in seen.observations)


def test_what_was_heard_says_nothing_until_the_teacher_sets_it(tmp_path):
    pupil = Studio(tmp_path).pupil("Finch")
    played = PlayedListening([Item.PULSE])
    played.keep_pulse(EVEN)
    KeptEvidence(pupil, lambda: BEFORE).listened(played.heard(Item.PULSE))
    seen = observations_of(pupil)
    assert seen.answers() == {}
    assert prior_knowledge_of(seen).claims == frozenset()
    assert seen.latest_heard("pulse").finding.band is Band.THERE


def test_every_band_is_told_with_figures_and_how_sure_and_never_as_a_grade(tmp_path):
    for name in CHILDREN:
        seen, *_ = listen_to(name, tmp_path / name)
        for heard in seen.heard:
            told = [band_words(heard.finding), *finding_sentences(heard.finding)]
            assert any(character.isdigit() for sentence in told for character in sentence)
            assert QUESTION_OF[heard.finding.item]
            assert not any("grade" in each or "points" in each for each in told)
