"""Note values and what teachers call them."""

import music21
import pytest
from hypothesis import given
from hypothesis import strategies as st

from landmarks.values import (
    AMERICAN,
    BRITISH,
    SYLLABLES,
    TYPES,
    VALUE_NAMINGS,
    NoteValue,
    parse_value,
)

values = st.builds(NoteValue, st.sampled_from(TYPES), st.integers(0, 2))


@given(values)
def test_a_value_lasts_as_long_as_music21_says(value):
    """music21 as an independent reader of MusicXML's note types."""
    duration = music21.duration.Duration(type=value.type, dots=value.dots)
    assert value.quarters == duration.quarterLength


def test_the_same_note_has_three_names():
    """Common practice, no source."""
    crotchet, quaver = NoteValue("quarter"), NoteValue("eighth")
    assert [n.of(crotchet) for n in (BRITISH, AMERICAN, SYLLABLES)] == [
        "crotchet", "quarter note", "ta",
    ]  # fmt: skip
    assert [n.of(quaver) for n in (BRITISH, AMERICAN, SYLLABLES)] == ["quaver", "eighth note", "ti"]
    assert BRITISH.of(NoteValue("half", 1)) == "dotted minim"
    assert SYLLABLES.of(NoteValue("half", 1)) == "ta-a-a"
    assert SYLLABLES.of(NoteValue("eighth", 1)) is None
    assert BRITISH.of(NoteValue("half", 2)) is None


@pytest.mark.parametrize("naming", VALUE_NAMINGS.values(), ids=VALUE_NAMINGS)
@given(value=values)
def test_every_name_is_read_back(naming, value):
    name = naming.of(value)
    if name is not None:
        assert parse_value(f" {name.upper()} ") == (value, naming)


@given(st.text(max_size=20))
def test_other_words_are_no_note_values(text):
    found = parse_value(text)
    assert found is None or found[1].of(found[0]) == text.strip().casefold()
