"""The ladder as data, and how an answer finds its rung."""

import pytest

from drills.cards.card import Kind, parse_card
from drills.learning.ladder.material import ladder_cards, on_stave
from drills.learning.ladder.rung import Asks, ladder, odds, rung_named
from drills.learning.ladder.trace import Trace
from drills.learning.prior_knowledge.prior_knowledge import PriorKnowledge
from landmarks.sets import built_in_sets
from landmarks.stave import BASS, TREBLE

NOBODY = PriorKnowledge()
RUNGS = ladder(TREBLE)


# The order in which the trade leads to the stave: common practice, no source.
def test_the_ladder_leads_from_shapes_over_keys_and_landmarks_to_mixed_clefs():
    assert [rung.name for rung in RUNGS] == [
        "no-stave", "one-line", "two-lines", "five-lines", "keys-by-place", "keys-by-name",
        "treble-landmarks", "bass-landmarks", "treble-steps-beside", "bass-steps-beside",
        "treble-neighbours", "bass-neighbours", "mixed-clefs",
    ]  # fmt: skip


def test_a_pupil_whose_stave_begins_with_bass_climbs_bass_before_treble():
    names = [rung.name for rung in ladder(BASS)]
    assert names.index("bass-landmarks") + 1 == names.index("treble-landmarks")


@pytest.mark.parametrize("name", built_in_sets())
def test_every_card_of_the_ladder_belongs_to_one_rung_and_every_rung_has_cards(name):
    cards = [card for card in ladder_cards(built_in_sets()[name]) if _leads(card)]
    clefs = {card.clef for card in cards}
    for card in cards:
        assert sum(rung.has(card) for rung in RUNGS) == 1
        assert parse_card(card.id) == card
    for rung in RUNGS:
        if rung.asks not in (Asks.CONTOUR, Asks.MIXED) and rung.clef in (None, *clefs):
            assert any(map(rung.has, cards))


def _leads(card):
    return card.kind is not Kind.KEY or card.form


def test_a_contour_belongs_to_the_rung_of_its_stave_lines():
    (rung,) = (r for r in RUNGS if r.has(parse_card("contour/bass/F3/two-lines/up,down")))
    assert rung.name == "two-lines"


def test_a_name_that_no_rung_has_is_answered_with_those_there_are():
    with pytest.raises(LookupError, match="no rung of the ladder; put one of no-stave, one-line"):
        rung_named("attic", RUNGS)


def test_before_mixed_clefs_only_one_clef_is_asked():
    cards = ladder_cards(built_in_sets()["five"])
    for place, rung in enumerate(RUNGS):
        asked = on_stave(rung, RUNGS[:place], cards)
        if rung.clef is not None:
            assert {card.clef for card in asked} == {rung.clef}
    assert {card.clef for card in on_stave(RUNGS[-1], RUNGS[:-1], cards)} == {TREBLE, BASS}


# Corbett and Anderson 1995, equations from memory: the posterior by Bayes' rule, then learning.
def test_a_skill_is_traced_as_published():
    rung = RUNGS[0]
    trace = Trace(rung, frozenset(), NOBODY)
    card = parse_card("contour/treble/G4/no-stave/up")
    known = odds().unseen
    for right in (True, False, True, True):
        if right:
            hit = known * (1 - rung.slip)
            known = hit / (hit + (1 - known) * rung.guess)
        else:
            miss = known * rung.slip
            known = miss / (miss + (1 - known) * (1 - rung.guess))
        known += (1 - known) * rung.learn
        trace.observe(card, right)
        assert trace.skilled == pytest.approx(known)


def answered(trace, card, *rights):
    for right in rights:
        trace.observe(card, right)
    return trace.climbed


SHAPE = parse_card("contour/treble/G4/no-stave/up")


def test_a_rung_is_climbed_when_enough_answers_were_right_and_not_before():
    trace = Trace(RUNGS[0], frozenset(), NOBODY)
    assert not answered(trace, SHAPE, *[True] * 5)
    assert answered(trace, SHAPE, True)


def test_what_was_looked_for_and_not_seen_needs_twice_as_many_answers():
    denied = Trace(RUNGS[0], frozenset(), PriorKnowledge(denied=frozenset({"higher-lower"})))
    assert not answered(denied, SHAPE, *[True] * 11)
    assert answered(denied, SHAPE, True)


def test_what_is_brought_is_overturned_by_three_contrary_moves_and_not_by_one():
    brought = PriorKnowledge(frozenset({"higher-lower"}), reasons={"higher-lower": "hears it"})
    trace = Trace(RUNGS[0], frozenset(), brought)
    assert trace.climbed
    assert answered(trace, SHAPE, False)
    assert not answered(trace, SHAPE, False, False)


def test_of_keys_two_are_enough_and_a_right_one_between_makes_it_three():
    brought = PriorKnowledge(frozenset({"key-names"}), reasons={"key-names": "finds keys"})
    rung = rung_named("keys-by-name", RUNGS)
    key = parse_card("key/treble/D4/name")
    assert not answered(Trace(rung, frozenset(), brought), key, False, False)
    trace = Trace(rung, frozenset(), brought)
    assert answered(trace, key, False, True)
    assert not answered(trace, key, False, False)


def test_keys_are_found_when_all_but_one_were_right_when_last_asked():
    rung = rung_named("keys-by-name", RUNGS)
    cards = [card for card in ladder_cards(built_in_sets()["five"]) if rung.has(card)]
    trace = Trace(rung, frozenset(cards), NOBODY)
    assert not answered(trace, cards[0], *[True] * 12)
    for card in cards[1:-1]:
        answered(trace, card, True)
    assert trace.climbed
