"""What is asked, and what it is called in a session file and by a teacher."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.card import Card, Kind, cards_of, default_cards, key_cards, parse_card
from landmarks.names import FIXED_DO, GERMAN
from landmarks.pitch import Pitch
from landmarks.sets import Anchor, LandmarkSet, built_in_sets
from landmarks.stave import BASS, TREBLE

SETS = built_in_sets()

pitches = st.builds(Pitch, st.integers(5, 56), st.integers(-2, 2))
cards = st.builds(Card, st.sampled_from(Kind), st.sampled_from([TREBLE, BASS]), pitches, pitches)


def step(target, anchor, clef=TREBLE):
    return Card(Kind.STEP, clef, Pitch.parse(target), Pitch.parse(anchor))


# These names stand in pupils' session files: they may be added to and never changed.
DEFAULT_IDS = """
landmark/treble/C4 landmark/treble/G4 landmark/bass/C4 landmark/bass/F3 landmark/treble/C5
landmark/bass/C3 step/treble/D4 step/treble/B3 step/treble/A4 step/treble/F4 step/bass/D4
step/bass/B3 step/bass/G3 step/bass/E3 step/treble/D5 step/treble/B4 step/bass/D3 step/bass/B2
"""


def test_the_default_cards_keep_their_names_for_good():
    assert [card.id for card in default_cards()] == DEFAULT_IDS.split()


def test_a_card_expects_the_key_of_its_note():
    assert step("A4", "G4").key == 69
    assert step("Bb3", "C4", BASS).key == 58


def test_a_card_counts_its_steps_up_and_down_from_its_landmark():
    assert step("A4", "G4").steps == 1
    assert step("E4", "G4").steps == -2
    assert step("F#4", "G4").steps == -1
    assert Card(Kind.LANDMARK, TREBLE, Pitch.parse("G4"), Pitch.parse("G4")).steps == 0


@given(cards)
def test_a_card_is_found_again_by_its_name_in_the_session_file(card):
    read = parse_card(card.id)
    assert read == card
    assert read.id == card.id
    assert read.key == card.key
    assert read.anchor == card.target


@given(cards, pitches)
def test_the_landmark_to_step_from_is_no_part_of_what_a_card_is(card, anchor):
    other = Card(card.kind, card.clef, card.target, anchor)
    assert other == card
    assert hash(other) == hash(card)
    assert {other: "seconds"}[card] == "seconds"


@given(cards, cards)
def test_two_cards_are_the_same_exactly_when_their_names_are(one, other):
    assert (one == other) == (one.id == other.id)


@given(st.lists(cards, max_size=6), st.randoms())
def test_cards_sort_the_same_way_in_whatever_order_they_come(some, chance):
    shuffled = list(some)
    chance.shuffle(shuffled)
    assert [card.id for card in sorted(shuffled)] == [card.id for card in sorted(some)]


@pytest.mark.parametrize(
    "card_id",
    ["", "step", "step/treble", "step/treble/", "step/alto/C4", "scale/treble/C4", "step/treble/H4",
     "step/treble/c4", "step/treble/ C4", "step/treble/F♯4", "Step/treble/C4", "step/treble/C4/",
     "step/treble/C04"],
)  # fmt: skip
def test_a_name_that_no_card_bears_is_refused_with_what_one_looks_like(card_id):
    with pytest.raises(ValueError, match="is not a card: kind/clef/note, as in step/treble/A4"):
        parse_card(card_id)


def test_a_card_says_what_it_asks_in_a_teachers_words():
    said = [str(card) for card in cards_of(SETS["f-c-g"])]
    assert said == [
        "middle C (treble clef)", "treble G", "middle C (bass clef)", "bass F",
        "treble D, 1 step above middle C", "B below middle C",
        "treble A, 1 step above treble G", "treble F, 1 step below treble G",
        "D above middle C", "bass B, 1 step below middle C",
        "bass G, 1 step above bass F", "bass E, 1 step below bass F",
    ]  # fmt: skip


def test_further_steps_are_counted_in_the_plural():
    assert str(step("F4", "G4")) == "treble F, 1 step below treble G"
    assert str(step("E4", "G4")) == "treble E, 2 steps below treble G"
    assert str(step("D4", "G4")) == "treble D, 3 steps below treble G"


def test_a_note_beyond_its_landmark_of_the_same_letter_is_still_counted_from_it():
    assert str(step("C1", "C2", BASS)) == "very low C, 7 steps below low C"


def test_a_note_beside_another_landmark_than_middle_c_is_counted_from_that():
    assert str(step("E4", "F3", BASS)) == "E above middle C, 6 steps above bass F"


def test_a_key_card_names_the_key_and_no_stave():
    assert [str(card) for card in key_cards(SETS["clef-lines"])] == ["the key F3", "the key G4"]


def test_a_card_is_named_in_the_teachers_own_naming():
    card = Card(Kind.LANDMARK, BASS, Pitch.parse("B3"), Pitch.parse("C4"))
    assert card.named() == "bass B"
    assert card.named(GERMAN) == "bass H"
    assert card.named(FIXED_DO) == "bass si"


@pytest.mark.parametrize("name", SETS)
def test_no_two_cards_of_a_built_in_set_look_or_read_alike(name):
    asked = cards_of(SETS[name])
    assert len({(card.clef, card.target) for card in asked}) == len(asked)
    assert len({str(card) for card in asked}) == len(asked)


@pytest.mark.parametrize("name", SETS)
def test_the_landmarks_of_a_set_come_first_and_its_steps_after_them(name):
    landmarks = SETS[name]
    asked, n = cards_of(landmarks), len(landmarks.anchors)
    assert [(c.kind, c.clef, c.target, c.anchor) for c in asked[:n]] == [
        (Kind.LANDMARK, a.clef, a.pitch, a.pitch) for a in landmarks.anchors
    ]
    for card in asked[n:]:
        assert card.kind is Kind.STEP
        assert Anchor(card.clef, card.anchor) in {
            Anchor(a.clef, a.pitch) for a in landmarks.anchors
        }
        assert 1 <= abs(card.steps) <= 4


def test_each_key_of_a_set_is_shown_once_and_from_the_left_hand_to_the_right():
    shown = key_cards(SETS["five"])
    assert [str(card.target) for card in shown] == ["C3", "F3", "C4", "G4", "C5"]
    assert [card.clef for card in shown] == [BASS, BASS, TREBLE, TREBLE, TREBLE]
    assert {card.kind for card in shown} == {Kind.KEY}


def test_a_set_of_one_landmark_without_steps_asks_one_card():
    alone = LandmarkSet("one", "One", (Anchor(TREBLE, Pitch.parse("G4"), 0, 0),))
    assert [card.id for card in cards_of(alone)] == ["landmark/treble/G4"]


@pytest.mark.parametrize("note", ["C4294967296", "G99", "C-9", "A10"])
def test_a_card_of_a_note_beyond_every_keyboard_is_none(note):
    """MIDI 1.0 numbers keys from 0 to 127: C-1 to G9."""
    with pytest.raises(ValueError, match="is not a card"):
        parse_card(f"piece/treble/{note}")
    assert parse_card("piece/treble/G9").key == 127
