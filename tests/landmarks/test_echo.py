"""Rhythms of music21's corpus, played back in another tempo with planted errors."""

import math
import random
from fractions import Fraction
from functools import cache
from itertools import accumulate, pairwise

import pytest
from statsmodels.stats.proportion import proportion_confint

from landmarks.echo import FEWEST_NOTES, hear_echo, share_between

music21 = pytest.importorskip("music21")

PIECES = (
    "bach/bwv1.6", "bach/bwv10.7", "bach/bwv101.7", "bach/bwv102.7", "bach/bwv103.6",
    "bach/bwv104.6", "bach/bwv108.6", "bach/bwv11.6", "bach/bwv110.7", "bach/bwv112.5",
    "bach/bwv66.6", "bach/bwv65.2", "bach/bwv64.2", "bach/bwv60.5", "bach/bwv57.8",
    "bach/bwv4.8", "bach/bwv40.3", "bach/bwv244.3", "bach/bwv26.6", "bach/bwv36.4-2",
    "bach/bwv371", "bach/bwv5.7", "bach/bwv55.5", "bach/bwv6.6", "bach/bwv7.7",
    "bach/bwv81.7", "bach/bwv83.5", "bach/bwv85.6", "bach/bwv86.6", "bach/bwv9.7",
)  # fmt: skip
NOTES = 9
RHYTHMS = 20


@cache
def rhythms():
    """Twenty rhythms of nine notes: the first of each soprano's that has two lengths or more."""
    found = []
    for name in PIECES:
        part = music21.corpus.parse(name).parts[0].flatten().stripTies()
        onsets = [Fraction(note.offset) for note in part.notes]
        for first in range(0, len(onsets) - NOTES, 4):
            own = tuple(onset - onsets[first] for onset in onsets[first : first + NOTES])
            lengths = {later - earlier for earlier, later in pairwise(own)}
            if len(lengths) > 1 and 0 not in lengths and own not in found:
                found.append(own)
                break
    assert len(found) >= RHYTHMS
    return found[:RHYTHMS]


def played(onsets, seconds_a_quarter, unevenness, chance):
    """Onsets in ms, each length uneven by a share of itself."""
    lengths = [float(b - a) for a, b in pairwise(onsets)]
    uneven = (
        1000 * seconds_a_quarter * each * (1 + chance.gauss(0, unevenness)) for each in lengths
    )
    return list(accumulate(uneven, initial=1500.0))


def whole(rhythm):
    return list(rhythm), {}


def left_out(rhythm):
    return [*rhythm[:4], *rhythm[5:]], {"left_out": (4,)}


def added(rhythm):
    between = (rhythm[3] + rhythm[4]) / 2
    return [*rhythm[:4], between, *rhythm[4:]], {"added": (4,)}


def lengthened(rhythm):
    longer = rhythm[4] - rhythm[3]
    return [*rhythm[:4], *(each + longer for each in rhythm[4:])], {"changed": (3,)}


def shortened(rhythm):
    shorter = (rhythm[6] - rhythm[5]) / 2
    return [*rhythm[:6], *(each - shorter for each in rhythm[6:])], {"changed": (5,)}


def two_errors(rhythm):
    longer = rhythm[2] - rhythm[1]
    later = [each + longer for each in rhythm[2:]]
    return [*rhythm[:2], *later[:4], *later[5:]], {"changed": (1,), "left_out": (6,)}


PLANTED = [whole, left_out, added, lengthened, shortened]
NOTHING = {"changed": (), "left_out": (), "added": ()}


@pytest.mark.parametrize("plant", PLANTED)
@pytest.mark.parametrize("tempo", [0.7, 1.0, 1.6])
@pytest.mark.parametrize("unevenness", [0.0, 0.05])
def test_planted_errors_are_all_found_and_none_invented(plant, tempo, unevenness):
    missed = []
    for number, rhythm in enumerate(rhythms()):
        chance = random.Random(number)
        given = played(rhythm, 0.6, 0.0, chance)
        wrong, expected = plant(rhythm)
        heard = hear_echo(given, played(wrong, 0.6 * tempo, unevenness, chance))
        told = {name: getattr(heard, name) for name in NOTHING}
        if told != NOTHING | expected:
            missed.append((number, [float(each) for each in rhythm], told, expected))
        elif unevenness == 0:
            assert heard.tempo == pytest.approx(tempo)
    assert not missed


@pytest.mark.parametrize("tempo", [0.7, 1.6])
def test_two_errors_are_told_as_planted_or_as_fewer_that_sound_the_same(tempo):
    for number, rhythm in enumerate(rhythms()):
        wrong, expected = two_errors(rhythm)
        heard = hear_echo(
            played(rhythm, 0.6, 0, random.Random(0)),
            played(wrong, 0.6 * tempo, 0, random.Random(number)),
        )
        told = {name: getattr(heard, name) for name in NOTHING}
        assert told == NOTHING | expected or 0 < sum(map(len, told.values())) <= 2


@pytest.mark.parametrize("tempo", [0.5, 2.0])
def test_a_whole_rhythm_is_whole_in_any_tempo(tempo):
    for rhythm in rhythms():
        chance = random.Random(1)
        heard = hear_echo(played(rhythm, 1, 0.03, chance), played(rhythm, tempo, 0.03, chance))
        assert heard.is_whole
        assert (heard.kept, heard.in_order) == (NOTES - 1, NOTES - 2)


def test_the_order_of_lengths_may_come_back_where_their_ratio_does_not():
    """Long short short long, told as 3 1 1 3 for 2 1 1 2."""
    heard = hear_echo([0, 800, 1200, 1600, 2400], [0, 1200, 1600, 2000, 3200])
    assert heard.in_order == heard.turns == 3
    assert heard.kept < heard.lengths


@pytest.mark.parametrize("notes", [0, 1])
def test_of_nothing_nothing_came_back(notes):
    heard = hear_echo([0, 500, 1000], [100.0] * notes)
    assert (heard.kept, heard.in_order) == (0, 0)
    assert len(heard.left_out) == 3 - notes


def test_two_notes_are_no_rhythm():
    with pytest.raises(ValueError, match=f"{FEWEST_NOTES} notes"):
        hear_echo([0, 500], [0, 500])


@pytest.mark.parametrize(("right", "tried"), [(0, 6), (3, 8), (8, 8), (5, 10)])
def test_the_interval_of_a_share_agrees_with_statsmodels(right, tried):
    """Wilson's score interval."""
    assert share_between(right, tried) == pytest.approx(
        proportion_confint(right, tried, method="wilson")
    )
    assert math.isclose(share_between(0, 0)[1], 1.0)
