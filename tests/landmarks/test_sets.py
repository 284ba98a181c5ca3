"""The landmark sets that come along, and which notes a set asks for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from landmarks.pitch import Pitch
from landmarks.sets import (
    DEFAULT_SET,
    FURTHEST_STEP,
    Anchor,
    LandmarkSet,
    built_in_sets,
)
from landmarks.stave import BASS, TREBLE

SETS = built_in_sets()

anchors = st.builds(
    Anchor,
    st.sampled_from([TREBLE, BASS]),
    st.builds(Pitch, st.integers(12, 45)),
    st.integers(0, FURTHEST_STEP),
    st.integers(0, FURTHEST_STEP),
)
landmark_sets = st.lists(
    anchors, min_size=1, max_size=7, unique_by=lambda anchor: (anchor.clef, anchor.pitch)
).map(lambda some: LandmarkSet("mine", "Mine", tuple(some)))


def notes(landmarks, clef=None):
    return [str(a.pitch) for a in landmarks.anchors if clef is None or a.clef == clef]


def reaches(anchor, clef, pitch):
    steps = pitch.diatonic - anchor.pitch.diatonic
    return anchor.clef == clef and -anchor.steps_below <= steps <= anchor.steps_above


# The sets as they are asked for: F/C/G, all five Cs, the clef lines alone, outward from middle C.
def test_one_built_in_set_stands_on_bass_f_middle_c_and_treble_g():
    assert set(notes(SETS["f-c-g"])) == {"F3", "C4", "G4"}
    assert notes(SETS["f-c-g"], TREBLE) == ["C4", "G4"]
    assert notes(SETS["f-c-g"], BASS) == ["C4", "F3"]


def test_one_built_in_set_stands_on_all_five_cs():
    assert set(notes(SETS["cs"])) == {"C2", "C3", "C4", "C5", "C6"}


def test_one_built_in_set_stands_on_the_two_clef_lines_only():
    assert [(a.clef, a.pitch) for a in SETS["clef-lines"].anchors] == [
        (clef, clef.pitch) for clef in (TREBLE, BASS)
    ]


def test_one_built_in_set_grows_outward_from_middle_c_with_no_gap_and_no_crossing():
    outward = SETS["outward"]
    distances = [abs(a.pitch.diatonic - 28) for a in outward.anchors]
    assert distances[:2] == [0, 0]
    assert distances == sorted(distances)
    for clef, side in ((TREBLE, 1), (BASS, -1)):
        placed = {p.diatonic for a, p in outward.neighbours() if a.clef == clef}
        placed |= {a.pitch.diatonic for a in outward.anchors if a.clef == clef}
        assert placed == {28 + side * steps for steps in range(12)}


def test_the_default_set_holds_the_five_landmarks_of_the_lesson():
    assert set(notes(SETS[DEFAULT_SET])) == {"C3", "F3", "C4", "G4", "C5"}


@pytest.mark.parametrize("name", SETS)
def test_every_built_in_set_has_a_name_a_title_and_a_sentence_about_it(name):
    landmarks = SETS[name]
    assert landmarks.name == name
    assert landmarks.title
    assert landmarks.about.endswith(".")


@pytest.mark.parametrize("name", sorted(set(SETS) - {"outward"}))
def test_the_other_built_in_sets_step_once_each_way(name):
    assert {(a.steps_below, a.steps_above) for a in SETS[name].anchors} == {(1, 1)}


@pytest.mark.parametrize("name", SETS)
def test_the_built_in_sets_treat_both_hands_alike(name):
    mirrored = {(TREBLE if a.clef == BASS else BASS, 56 - a.pitch.diatonic, a.steps_above,
                 a.steps_below) for a in SETS[name].anchors}  # fmt: skip
    assert mirrored == {
        (a.clef, a.pitch.diatonic, a.steps_below, a.steps_above) for a in SETS[name].anchors
    }


@given(landmark_sets)
def test_the_neighbours_are_all_notes_within_reach_but_the_landmarks_each_once(landmarks):
    found = [(anchor.clef, pitch) for anchor, pitch in landmarks.neighbours()]
    own = {(anchor.clef, anchor.pitch) for anchor in landmarks.anchors}
    within_reach = {
        (a.clef, a.pitch.stepped(steps))
        for a in landmarks.anchors
        for steps in range(-a.steps_below, a.steps_above + 1)
    }
    assert len(found) == len(set(found))
    assert set(found) == within_reach - own


@given(landmark_sets)
def test_a_neighbour_is_read_from_the_nearest_landmark_that_reaches_it(landmarks):
    for anchor, pitch in landmarks.neighbours():
        distances = {
            other: abs(other.pitch.diatonic - pitch.diatonic)
            for other in landmarks.anchors
            if reaches(other, anchor.clef, pitch)
        }
        assert distances[anchor] == min(distances.values())


@given(landmark_sets)
def test_near_steps_are_taught_before_far_ones(landmarks):
    distances = [abs(p.diatonic - a.pitch.diatonic) for a, p in landmarks.neighbours()]
    assert distances == sorted(distances)
    assert all(1 <= distance <= FURTHEST_STEP for distance in distances)


@given(landmark_sets, st.builds(Pitch, st.integers(5, 56)), st.sampled_from([TREBLE, BASS]))
def test_the_nearest_landmark_is_sought_in_the_notes_own_clef_first(landmarks, pitch, clef):
    nearest = landmarks.nearest(pitch, clef)
    same_clef = [anchor for anchor in landmarks.anchors if anchor.clef == clef]
    candidates = same_clef or list(landmarks.anchors)
    distances = [abs(anchor.pitch.diatonic - pitch.diatonic) for anchor in candidates]
    assert candidates[distances.index(min(distances))] == nearest


def test_halfway_between_two_landmarks_the_one_taught_first_is_nearest():
    c, g = Anchor(TREBLE, Pitch.parse("C4")), Anchor(TREBLE, Pitch.parse("G4"))
    halfway = Pitch.parse("E4")
    assert LandmarkSet("c-first", "", (c, g)).nearest(halfway, TREBLE) == c
    assert LandmarkSet("g-first", "", (g, c)).nearest(halfway, TREBLE) == g


def test_the_holes_of_a_set_are_the_places_that_it_never_asks():
    """Counted by hand on the stave: one step about C, G and C leaves E, and about C, F, C an A."""
    sets = built_in_sets().items()
    holes = {name: [str(pitch) for _clef, pitch in found.holes()] for name, found in sets}
    assert holes["five"] == holes["f-c-g"] == ["E4", "A3"]
    assert holes["outward"] == holes["clef-lines"] == []
    assert len(holes["cs"]) == 16
