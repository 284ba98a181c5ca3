import pytest

from drills.simulation.sample_studio import PUPILS, SLOW_FOR_ALL

SEEDS = (0, 1, 2)
TROUBLED = [pupil for pupil in PUPILS if pupil.trouble != "none"]


def reviews(studio):
    return {review.nickname: review for review in studio.pupils}


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("pupil", TROUBLED, ids=lambda pupil: pupil.trouble)
def test_a_planted_trouble_is_found_and_named_first(reviewed_studio, pupil, seed):
    _, studio = reviewed_studio(seed)
    first = reviews(studio)[pupil.nickname].troubles[0]
    assert str(first.trouble) == pupil.trouble


@pytest.mark.parametrize("seed", SEEDS)
def test_a_pupil_without_trouble_is_told_none(reviewed_studio, seed):
    _, studio = reviewed_studio(seed)
    assert reviews(studio)["Marlow"].troubles == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_the_landmark_that_is_slow_for_everyone_is_found(reviewed_studio, seed):
    _, studio = reviewed_studio(seed)
    slow = [landmark.card.target for landmark in studio.landmarks if landmark.is_slow_for_everyone]
    assert slow == [SLOW_FOR_ALL]
    assert studio.sentence().startswith("Bass C is slow for ")


def test_the_note_that_a_pupil_is_stuck_on_is_named(reviewed_studio):
    _, studio = reviewed_studio(0)
    first = reviews(studio)["Pebble"].troubles[0]
    assert [str(card.target) for card in first.cards] == ["F3"]
    assert "bass F" in first.advice


def test_a_pupil_who_counts_up_from_the_bottom_line_is_told_so(reviewed_studio):
    _, studio = reviewed_studio(0)
    assert "counted up" in reviews(studio)["Juniper"].troubles[0].evidence
