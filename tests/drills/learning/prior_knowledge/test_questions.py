"""What is asked about a pupil: each answer says of itself what the drill does because of it."""

import re
from html.parser import HTMLParser

import pytest

from drills.learning.ladder.climb import Climber
from drills.learning.ladder.material import ladder_cards
from drills.learning.ladder.trace import Trace
from drills.learning.prior_knowledge.observations import Observations
from drills.learning.prior_knowledge.prior_knowledge import (
    LONG_LINE,
    SHORT_LINE,
    PriorKnowledge,
    prior_knowledge_of,
)
from drills.learning.prior_knowledge.question import NOT_SEEN, questions
from drills.reports.parent_questions import parents_sheet
from landmarks.names import FIXED_DO, GERMAN, LETTER
from landmarks.stave import BASS, TREBLE
from tests.drills.learning.ladder.test_beginners import BEFORE, brings
from tests.scripted_drill import FIVE

CARDS = ladder_cards(FIVE)
ANSWERS = [(name, answer) for name, asked in questions().items() for answer in asked.answers]


def effects(brings_: PriorKnowledge):
    """All that the drill does because of what a pupil brings."""
    climber = Climber(brings_, CARDS)
    needed = [Trace(r, frozenset(), brings_)._fewest for r in climber.rungs]
    return (
        climber.stands.name, tuple(r.name for r in climber.rungs), brings_.line_length,
        brings_.winding, brings_.naming, brings_.odds(CARDS),
        [climber.trace(r).skilled for r in climber.rungs], needed, brings_.wants_voice,
    )  # fmt: skip


@pytest.mark.parametrize(("question", "answer"), ANSWERS)
def test_every_answer_changes_what_the_drill_does_and_says_so(question, answer):
    said = Observations(pupil="Robin").seen(question, answer, BEFORE)
    choice = questions()[question].answers[answer]
    assert choice.changes.endswith(".")
    if choice.changes.startswith("For you"):
        # It is told to the teacher, and says so.
        assert effects(prior_knowledge_of(said)) == effects(PriorKnowledge())
        return
    unseen = PriorKnowledge()
    if (question, answer) in {("pulse", "not-yet"), ("clap-back", "not-yet")}:
        # As long as nobody has looked, the drill takes the same care as after "not yet".
        assert effects(prior_knowledge_of(said)) == effects(unseen)
    else:
        assert effects(prior_knowledge_of(said)) != effects(unseen)


@pytest.mark.parametrize("question", questions())
def test_an_answer_can_be_taken_back(question):
    answer = next(iter(questions()[question].answers))
    seen = Observations(pupil="Robin").seen(question, answer, BEFORE)
    taken_back = seen.seen(question, NOT_SEEN, BEFORE)
    assert effects(prior_knowledge_of(taken_back)) == effects(PriorKnowledge())
    assert len(taken_back.observations) == 2


@pytest.mark.parametrize(
    ("instrument", "first"),
    [("recorder", BASS), ("violin", BASS), ("trumpet", BASS), ("guitar", BASS),
     ("voice", TREBLE), ("cello", TREBLE), ("trombone", TREBLE),
     ("viola", TREBLE), ("harp", TREBLE), ("none", TREBLE)],
)  # fmt: skip
def test_the_stave_begins_with_the_clef_that_is_not_read_yet(instrument, first):
    assert prior_knowledge_of(brings("Robin", reads_for=instrument)).first_clef == first


@pytest.mark.parametrize(
    ("answer", "naming"), [("letters", LETTER), ("sol-fa", FIXED_DO), ("german", GERMAN)]
)
def test_notes_are_named_as_at_school(answer, naming):
    assert prior_knowledge_of(brings("Robin", note_names=answer)).naming == naming


def test_a_steady_pulse_makes_lines_of_two_bars():
    assert prior_knowledge_of(brings("Robin", pulse="yes")).line_length == LONG_LINE == 7
    assert prior_knowledge_of(brings("Robin", pulse="not-yet")).line_length == SHORT_LINE


class Fields(HTMLParser):
    """The groups of choices on a page, and whatever would be loaded from elsewhere."""

    def __init__(self):
        super().__init__()
        self.choices, self.loaded = {}, []

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        if given.get("type") == "radio":
            self.choices.setdefault(given["name"], []).append(given["value"])
        self.loaded += [given[name] for name in ("src", "href", "action") if name in given]


def test_the_parents_sheet_asks_every_question_and_loads_nothing():
    page = parents_sheet()
    fields = Fields()
    fields.feed(page)
    assert fields.choices == {name: list(q.options) for name, q in questions().items()}
    assert not fields.loaded
    assert not re.search(r"https?:|url\((?!\"data:)|@import", page)
    assert "default-src 'none'" in page
