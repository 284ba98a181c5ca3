"""Leaps, hand positions and hands together."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from landmarks.pitch import Pitch
from landmarks.score import Hand, ScoreNote, Stave
from landmarks.score.movement import hands_together, movements
from landmarks.stave import BASS, TREBLE


def played(pitch, onset, hand=Hand.RIGHT, length=1, is_grace=False):
    stave = Stave(1 if hand is Hand.RIGHT else 2, "Piano", hand)
    written = pitch if isinstance(pitch, Pitch) else Pitch.parse(pitch)
    return ScoreNote(
        bar="1", offset=Fraction(onset), onset=Fraction(onset), length=Fraction(length),
        stave=stave, clef=TREBLE if hand is Hand.RIGHT else BASS, written=written, octaves=0,
        value="quarter", dots=0, is_grace=is_grace, in_signature=True,
    )  # fmt: skip


def line(*names, hand=Hand.RIGHT):
    return [played(name, onset, hand) for onset, name in enumerate(names)]


def test_five_neighbouring_keys_are_one_position_and_a_sixth_is_another():
    assert movements(line("C4", "D4", "E4", "F4", "G4", "C4"))[0].positions == 1
    assert movements(line("C4", "G4", "A4"))[0].positions == 2
    assert movements(line("C4", "A4", "C4"))[0].positions == 3


def test_a_black_key_belongs_to_the_position_of_its_line_or_space():
    assert movements(line("C4", "F#4", "G4"))[0].positions == 1


def test_a_leap_is_counted_between_the_outer_notes_of_a_hand():
    chords = [played("C4", 0), played("G4", 0), played("E4", 1), played("A4", 1)]
    assert movements(chords)[0].largest_leap == 1
    left = [played(note.written, note.onset, Hand.LEFT) for note in chords]
    assert movements(left)[0].largest_leap == 2


def test_grace_notes_are_moments_of_their_own():
    notes = [played("C5", 0, is_grace=True), played("D5", 0, is_grace=True), played("C4", 0)]
    assert movements(notes)[0].largest_leap == 8


def test_hands_that_follow_each_other_do_not_play_together():
    right, left = played("G4", 0, length=2), played("C3", 2, Hand.LEFT)
    assert not hands_together([right, left])
    assert hands_together([right, played("C3", 1, Hand.LEFT)])


pitches = st.lists(st.builds(Pitch, st.integers(20, 45)), min_size=1, max_size=12)


def fewest_positions(places):
    """The fewest windows of five keys over a row of places, by trying every way to cut it."""
    best = [0] + [len(places)] * len(places)
    for end in range(1, len(places) + 1):
        for start in range(end):
            window = places[start:end]
            if max(window) - min(window) <= 4:
                best[end] = min(best[end], best[start] + 1)
    return best[-1]


@given(pitches)
def test_no_way_of_laying_the_hand_needs_fewer_positions(row):
    found = movements([played(pitch, onset) for onset, pitch in enumerate(row)])[0]
    assert found.positions == fewest_positions([pitch.diatonic for pitch in row])
