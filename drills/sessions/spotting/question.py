"""What is looked for in a line: a note, or a note value."""

from __future__ import annotations

from dataclasses import dataclass

from drills.cards.card import Card, Kind
from drills.text.errors import DrillsError
from landmarks.line import Line, LineNote
from landmarks.names import LETTER, NAMINGS, Naming, landmark_name
from landmarks.pitch import HIGHEST_PIANO_KEY, LOWEST_PIANO_KEY, Pitch
from landmarks.stave import CLEFS, Clef, grand_stave_clef
from landmarks.translation import _, gettext_noop
from landmarks.values import NoteValue, ValueNaming, parse_value


class QuestionError(DrillsError, ValueError):
    """What was asked for is neither a note nor a note value; one sentence says what to put."""


@dataclass(frozen=True)
class NoteQuestion:
    """Find every treble G: the same key in whatever clef it is written."""

    card: Card
    naming: Naming = LETTER

    @property
    def name(self) -> str:
        """The note as a teacher names it."""
        return self.card.named(self.naming)

    @property
    def recorded_name(self) -> str:
        """The same as session files have it."""
        return self.card.recorded_name

    def fits(self, note: LineNote) -> bool:
        """Return whether a note of a line is one to be found."""
        return note.pitch == self.card.target


@dataclass(frozen=True)
class ValueQuestion:
    """Find every crotchet."""

    value: NoteValue
    naming: ValueNaming

    @property
    def name(self) -> str:
        """The note value as the teacher names it."""
        return self.naming.of(self.value) or str(self.value)

    @property
    def recorded_name(self) -> str:
        """The same as session files have it."""
        return self.naming.of(self.value, gettext_noop) or str(self.value)

    def fits(self, note: LineNote) -> bool:
        """Return whether a note of a line is one to be found."""
        return note.value == self.value


Question = NoteQuestion | ValueQuestion


def note_question(clef: Clef, pitch: Pitch, naming: Naming = LETTER) -> NoteQuestion:
    """Ask for a note, whose card is of the kind that comes from a piece."""
    return NoteQuestion(Card(Kind.PIECE, clef, pitch, pitch), naming)


def wanted_in(line: Line, question: Question) -> tuple[int, ...]:
    """Return the numbers of the notes to be found, in reading order."""
    return tuple(number for number, note in enumerate(line.notes) if question.fits(note))


def parse_question(text: str, naming: Naming = LETTER) -> Question:
    """Read what a teacher asks for: "treble G", "bass C", "F#4", "crotchet", "ta".

    Notes are read by their landmark names in any naming, or in scientific pitch notation; note
    values by any of their names. QuestionError if it is none of these.
    """
    named = parse_value(text)
    if named is not None:
        return ValueQuestion(*named)
    place = _place_named(text, naming)
    if place is None:
        raise QuestionError(
            _(
                "{text!r} is neither a note nor a note value; put a name such as treble G, middle "
                "C, F#4, crotchet or quarter note"
            ).format(text=text)
        )
    return note_question(*place, naming)


def _place_named(text: str, naming: Naming) -> tuple[Clef, Pitch] | None:
    wanted = " ".join(text.casefold().split())
    for names in (naming, *NAMINGS.values()):
        for key in range(LOWEST_PIANO_KEY, HIGHEST_PIANO_KEY + 1):
            for pitch in {Pitch.of_key(key), Pitch.of_key(key, flats=True)}:
                own = grand_stave_clef(pitch)
                for clef in (own, *CLEFS.values()):
                    said = (landmark_name(pitch, clef, names, say) for say in (_, gettext_noop))
                    if wanted in (name.casefold() for name in said):
                        return clef, pitch
    try:
        pitch = Pitch.parse(text)
    except ValueError:
        return None
    on_piano = LOWEST_PIANO_KEY <= pitch.midi <= HIGHEST_PIANO_KEY
    return (grand_stave_clef(pitch), pitch) if on_piano else None
