import stat
from datetime import UTC, datetime

import pytest

from drills.cards.card import default_cards
from drills.storage.plan import PlanError, home_plan, plan_of, read_plan, write_plan
from drills.storage.studio import Studio
from landmarks.sets import built_in_sets

MADE = datetime(2026, 3, 2, 16, 30, tzinfo=UTC)
CARDS = default_cards()[:4]


def test_a_plan_travels_as_one_small_file(tmp_path):
    plan = home_plan("Fern", MADE, CARDS, 5)
    path = write_plan(plan, tmp_path)
    assert path.name == "Fern.plan.json"
    assert path.stat().st_size < 1000
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert read_plan(path) == plan
    assert read_plan(path).asked(built_in_sets()["five"]) == CARDS


def test_steps_come_back_with_the_landmark_they_are_read_from(tmp_path):
    five = built_in_sets()["five"]
    path = write_plan(home_plan("Fern", MADE, default_cards(), 5), tmp_path)
    for planned, taught in zip(read_plan(path).asked(five), default_cards(), strict=True):
        assert abs(planned.steps) <= abs(taught.steps)
        assert (planned.anchor, planned.clef) in {(a.pitch, a.clef) for a in five.anchors}


def test_a_pupil_has_the_plan_that_was_written_for_them(tmp_path):
    pupil = Studio(tmp_path).pupil("Fern")
    assert plan_of(pupil) is None
    plan = home_plan("Fern", MADE, CARDS, 5)
    write_plan(plan, pupil.folder)
    assert plan_of(pupil) == plan


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"cards": []}, "it holds no cards"),
        ({"cards": ["step/alto/G4"]}, "is not a card"),
        ({"cards": [CARDS[0].id, CARDS[0].id]}, "listed twice"),
        ({"minutes": 0}, "no practice time"),
        ({"minutes": 61}, "no practice time"),
        ({"pupil": "../Fern"}, "cannot be a nickname"),
        ({"made": "2026-03-02T16:30:00"}, "no time zone"),
        ({"format": "shopping"}, "not a home plan"),
        ({"minutes": "five"}, "not a home plan"),
    ],
)
def test_a_plan_that_cannot_be_used_is_refused_in_one_sentence(tmp_path, change, sentence):
    import json

    path = write_plan(home_plan("Fern", MADE, CARDS, 5), tmp_path)
    path.write_text(json.dumps(json.loads(path.read_text()) | change))
    with pytest.raises(PlanError, match=sentence) as refusal:
        read_plan(path)
    assert str(refusal.value).startswith(str(path))
    assert "\n" not in str(refusal.value)


def test_a_plan_for_nothing_cannot_be_made():
    with pytest.raises(PlanError, match="no cards"):
        home_plan("Fern", MADE, (), 5)
