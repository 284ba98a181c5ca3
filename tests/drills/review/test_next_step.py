"""What to do next never claims more than the cards ask for."""

import pytest

from drills.cards.card import cards_of, default_cards
from drills.review.next_step import places_left_out
from landmarks.sets import built_in_sets


def named(places):
    return [(clef.name, str(pitch)) for clef, pitch in places]


def test_the_places_between_the_cards_are_found():
    """Of bass C, bass F, middle C, treble G and treble C with a step each way: by hand."""
    assert named(places_left_out(cards_of(built_in_sets()["five"]))) == [
        ("bass", "A3"), ("treble", "E4"),
    ]  # fmt: skip


@pytest.mark.parametrize("name", built_in_sets())
def test_a_place_is_asked_for_or_left_out_and_never_both(name):
    cards = cards_of(built_in_sets()[name])
    asked = {(card.clef, card.target.diatonic) for card in cards}
    left_out = {(clef, pitch.diatonic) for clef, pitch in places_left_out(cards)}
    assert not asked & left_out
    for clef in {card.clef for card in cards}:
        places = sorted(place for found, place in asked | left_out if found == clef)
        assert places == list(range(places[0], places[-1] + 1))


def test_a_pupil_whose_every_note_is_in_ink_is_told_which_notes_are_left_out(notebook):
    for _day in range(12):
        answers = [(card.id, 0.9, True) for card in default_cards()]
        notebook.session(("key/treble/C4", 0.8, True), *answers)
    review = notebook.review()
    assert all(note.is_secured for note in review.notes)
    assert "every note of the set is secured" not in review.next_step
    assert "treble E" in review.next_step
    assert "bass A" in review.next_step
