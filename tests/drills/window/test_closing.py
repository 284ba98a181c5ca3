"""A session ends on the pupil's own grand stave, as it fills over the weeks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.cards.card import cards_of
from drills.engrave import palette
from drills.learning.response import State
from drills.window.pages.card_page import PageSetting
from drills.window.pages.closing import Today, closing_page
from landmarks.names import LETTER
from landmarks.sets import built_in_sets

CARDS = cards_of(built_in_sets()["five"])
SETTING = PageSetting(1024, 768, False, LETTER, CARDS)
STATES = st.fixed_dictionaries({card: st.sampled_from(State) for card in CARDS})


def words(today):
    markup = "".join(layer.markup for layer in closing_page(today, SETTING))
    return [part.split("<")[0] for part in markup.split('">')[1:] if part.split("<")[0]]


def rings(today):
    return sum("<circle" in layer.markup for layer in closing_page(today, SETTING))


@given(STATES, STATES)
def test_every_note_met_so_far_stands_on_the_stave_once_and_the_newly_inked_are_ringed(
    before, after
):
    today = Today(before, after, 3, 0)
    places = [card.place for card in today.met]
    assert len(set(places)) == len(places)
    assert {card.place for card, state in after.items() if state is State.INK} <= set(places)
    assert rings(today) == len(today.turned)
    for card in today.turned:
        assert after[card] is State.INK
        assert before[card] is not State.INK


def test_a_note_that_turned_to_ink_is_named():
    treble_g = next(card for card in CARDS if card.named(LETTER) == "treble G")
    today = Today({treble_g: State.PENCIL}, {treble_g: State.INK}, 12, 0)
    assert words(today) == ["12 notes found today", "in ink now: treble G"]


@pytest.mark.parametrize(
    ("found", "followed", "told"),
    [
        (0, 0, "0 notes found today"),
        (1, 0, "1 note found today"),
        (0, 2, "2 lines followed today"),
        (3, 1, "3 notes found, 1 line followed today"),
    ],
)
def test_what_was_done_today_is_counted(found, followed, told):
    assert words(Today({}, {}, found, followed)) == [told]


def test_an_old_note_in_ink_is_not_ringed_again():
    states = {CARDS[0]: State.INK}
    page = closing_page(Today(states, states, 1, 0), SETTING)
    assert not any("<circle" in layer.markup and palette.ACCENT in layer.markup for layer in page)


def test_what_came_nearer_to_ink_is_ringed_and_counted_and_nothing_is_said_of_none_in_ink():
    states = {CARDS[0]: State.PENCIL, CARDS[1]: State.PENCIL}
    today = Today(
        states, states, 4, 0, {CARDS[0]: 0.2, CARDS[1]: 0.4}, {CARDS[0]: 0.5, CARDS[1]: 0.4}
    )
    assert today.nearer == [CARDS[0]]
    assert rings(today) == 1
    assert words(today)[-1] == "1 note came nearer to ink"
    assert words(Today(states, states, 4, 0))[-1] == "2 in pencil"


def test_the_nearer_to_ink_the_darker_is_the_pencil():
    def pressed(near):
        today = Today({}, {CARDS[0]: State.PENCIL}, 1, 0, {}, {CARDS[0]: near})
        markup = "".join(layer.markup for layer in closing_page(today, SETTING))
        return float(markup.split('<g opacity="')[1].split('"')[0]) if "<g opacity" in markup else 0

    assert pressed(0.0) == 0 < pressed(0.3) < pressed(0.9) < 1
