"""What a teacher asks for: notes and note values by the names in use."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.sessions.spotting.question import (
    NoteQuestion,
    QuestionError,
    ValueQuestion,
    parse_question,
    wanted_in,
)
from landmarks.line import line_of
from landmarks.names import FIXED_DO, GERMAN, NAMINGS
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY, Pitch
from landmarks.stave import TREBLE
from tests.musicxml import attributes, backup, note, score

KEYS = range(LOWEST_PIANO_KEY, HIGHEST_PIANO_KEY + 1)


@pytest.mark.parametrize(
    ("text", "card"),
    [
        ("treble G", "piece/treble/G4"),
        ("Bass C", "piece/bass/C3"),
        ("middle c", "piece/treble/C4"),
        ("high C", "piece/treble/C6"),
        ("F#4", "piece/treble/F#4"),
        ("treble F♯", "piece/treble/F#4"),
        ("b below middle c", "piece/treble/B3"),
    ],
)
def test_notes_are_asked_for_by_the_names_teachers_use(text, card):
    question = parse_question(text)
    assert isinstance(question, NoteQuestion)
    assert question.card.id == card


def test_notes_are_asked_for_in_the_naming_of_the_lesson():
    assert parse_question("treble sol", FIXED_DO).card.target == Pitch.parse("G4")
    assert parse_question("treble B", GERMAN).card.target == Pitch.parse("Bb4")
    assert parse_question("treble H", GERMAN).card.target == Pitch.parse("B4")


@given(st.sampled_from(KEYS), st.sampled_from(sorted(NAMINGS)))
def test_the_name_of_every_note_is_read_back(key, naming):
    names = NAMINGS[naming]
    question = NoteQuestion(parse_question(str(Pitch.of_key(key))).card, names)
    again = parse_question(question.name, names)
    assert again.card.target.midi == key


@pytest.mark.parametrize("text", ["crotchet", "quarter note", "TA"])
def test_note_values_are_asked_for_by_any_of_their_names(text):
    question = parse_question(text)
    assert isinstance(question, ValueQuestion)
    assert str(question.value) == "quarter"
    assert question.name == text.lower()


@pytest.mark.parametrize("text", ["", "trebble G", "H9", "C9", "A-1"])
def test_other_words_are_refused_with_examples(text):
    with pytest.raises(QuestionError, match="put a name such as treble G"):
        parse_question(text)


def test_a_note_is_looked_for_in_either_clef_and_a_sharp_makes_another_note():
    line = line_of(
        score(
            attributes(clefs=("G2", "F4"), fifths=1)
            + note("C4", 1, "quarter") + note("C#4", 1, "quarter") + note("C4", 2, "half")
            + backup(4) + note("C4", 4, "whole", staff=2)
        ),
        "here",
    )  # fmt: skip
    spots = [line.notes[n].spot for n in wanted_in(line, parse_question("middle C"))]
    assert spots == ["treble/C4/quarter", "bass/C4/whole", "treble/C4/half"]
    assert wanted_in(line, parse_question("treble G")) == ()
    assert len(wanted_in(line, parse_question("crotchet"))) == 2
    assert line.notes[0].clef == TREBLE
